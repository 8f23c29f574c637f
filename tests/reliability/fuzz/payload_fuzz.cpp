// The text of a symbol: labels, copies in a chart, shelf tags and badges.
//
// Promises: what parses is written again as the very same text; its parts are of the grammar and nothing else; a
// text that begins like a copy in a chart is never a label; whatever can be printed is read as what it was.
#include <algorithm>
#include <span>

#include "fuzz_input.h"
#include "loadlight/core/base32.h"
#include "loadlight/core/payload.h"

namespace loadlight::fuzz {
namespace {

using namespace core;

constexpr std::string_view kAlphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

void must_be_printable(std::string_view text) {
  promise(text.size() <= kLongestPayload, "a payload fits the symbol");
  promise(text.find_first_not_of(kAlphanumeric) == std::string_view::npos, "only characters that a reader passes on");
}

void must_be_authenticator(std::string_view text) {
  promise(text.size() == kAuthenticatorLength && base32_normalized(text) == text, "an authenticator is base32");
}

void must_hold(std::string_view text, const PackageLabelText& label) {
  must_be_printable(text);
  must_be_authenticator(label.authenticator);
  promise(text.starts_with("LL1."), "a label begins as a label");
  promise(label.signed_part + label.authenticator == text, "what is signed and the rest are the text");
  promise(unsigned_payload(LabelForm::Package, label.fields) == label.signed_part, "fields are written as they were");
  const LabelFields& fields = label.fields;
  promise(is_code(fields.load.sterilizer, kSterilizerCodeLength), "sterilizer");
  promise(fields.load.number >= 1 && fields.load.number <= LoadName::kLastNumber, "load number");
  promise(is_code(fields.operator_code, kOperatorCodeLength), "operator");
  promise(is_code(fields.contents, kContentsCodeLength) && is_code(fields.kind, kKindCodeLength), "contents and kind");
  promise(PackageId::parse_typed(fields.package.grouped()) == fields.package, "the id is found again when typed");
}

void must_hold(std::string_view text, const ShelfTagText& tag) {
  must_be_printable(text);
  must_be_authenticator(tag.authenticator);
  promise(is_code(tag.location, kLocationCodeLength), "location");
  promise(unsigned_shelf_tag(tag.location) == tag.signed_part, "a tag is written as it was");
  promise(tag.signed_part + tag.authenticator == text, "what is signed and the rest are the text");
}

void must_hold(std::string_view text, const BadgeText& badge) {
  must_be_printable(text);
  must_be_authenticator(badge.authenticator);
  promise(is_code(badge.operator_code, kOperatorCodeLength), "operator");
  promise(unsigned_badge(badge.operator_code) == badge.signed_part, "a badge is written as it was");
  promise(badge.signed_part + badge.authenticator == text, "what is signed and the rest are the text");
}

void must_hold(std::string_view text, const ChartCopyText&) {
  promise(text.starts_with("LLC1."), "a copy begins as a copy");
}

void must_hold(std::string_view text, const LaterFormText&) {
  promise(text.starts_with("LL") && text.find('.') <= 6, "a later form begins as one of ours");
}

void must_hold(std::string_view text, const NotOursText&) {
  promise(!text.starts_with("LLC1."), "a copy is known as one, however damaged");
}

std::string code_of(Input& input, std::size_t longest) {
  std::string code;
  for (std::size_t left = 1 + input.choice(longest); left > 0; --left) {
    code.push_back("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[input.choice(36)]);
  }
  return code;
}

CivilDate date_of(Input& input) {
  const int days = input.byte() * 65536 + input.byte() * 256 + input.byte();
  return CivilDate::from(1900, 1, 1)->plus_days(days % 2'958'000);
}

// A label of these bytes, as one may be printed; nothing when they draw no id.
std::optional<LabelFields> fields_of(Input& input) {
  std::uint8_t drawn[PackageId::kRandomBytes];
  std::generate(std::begin(drawn), std::end(drawn), [&] { return input.byte(); });
  const auto id = PackageId::from_random(drawn);
  if (!id) return std::nullopt;
  const LoadName load{code_of(input, kSterilizerCodeLength), 1 + (input.byte() * 391 + input.byte()) % 99'999};
  const CivilDate day = date_of(input);
  const auto use_by = input.choice(2) != 0 ? std::optional{date_of(input)} : std::nullopt;
  return LabelFields{*id,   load, day, use_by, code_of(input, kOperatorCodeLength), code_of(input, kContentsCodeLength),
                     code_of(input, kKindCodeLength)};
}

void print_and_read(Input input) {
  const auto fields = fields_of(input);
  if (!fields) return;
  constexpr std::string_view kAuthenticator = "0123456789ABC";
  const std::string text = unsigned_payload(LabelForm::Package, *fields) + std::string{kAuthenticator};
  must_be_printable(text);
  const PayloadText read = parse_payload(text);
  const auto* label = std::get_if<PackageLabelText>(&read);
  promise(label && label->fields == *fields, "what is printed is read as it was");
  const PayloadText copy = parse_payload(unsigned_payload(LabelForm::ChartCopy, *fields) + std::string{kAuthenticator});
  promise(std::holds_alternative<ChartCopyText>(copy), "a copy in a chart is read as one");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const fuzz::Input input{data, size};
  const std::string_view text = input.rest();
  std::visit([&](const auto& read) { fuzz::must_hold(text, read); }, core::parse_payload(text));
  fuzz::print_and_read(input);
  return 0;
}
