#include "loadlight/core/payload.h"

#include <catch2/catch.hpp>
#include <random>
#include <set>

using namespace loadlight::core;

namespace {

constexpr std::string_view kCodeCharacters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr std::string_view kBase32 = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
constexpr std::string_view kQrAlphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

class Draw final {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}

  std::size_t number(std::size_t below) { return static_cast<std::size_t>(random_() % below); }

  std::string text(std::string_view alphabet, std::size_t length) {
    std::string out;
    while (out.size() < length) out.push_back(alphabet[number(alphabet.size())]);
    return out;
  }
  std::string code(std::size_t longest) { return text(kCodeCharacters, 1 + number(longest)); }
  CivilDate date() { return CivilDate::from(1900, 1, 1)->plus_days(static_cast<int>(number(2958465))); }

  PackageId package() {
    std::array<std::uint8_t, PackageId::kRandomBytes> bytes{};
    for (auto& byte : bytes) byte = static_cast<std::uint8_t>(random_());
    const auto id = PackageId::from_random(bytes);
    return id ? *id : package();
  }

  LabelFields fields() {
    return {package(),
            {code(kSterilizerCodeLength), static_cast<int>(1 + number(LoadName::kLastNumber))},
            date(),
            number(2) == 0 ? std::nullopt : std::optional{date()},
            code(kOperatorCodeLength),
            code(kContentsCodeLength),
            code(kKindCodeLength)};
  }
  std::string authenticator() { return text(kBase32, kAuthenticatorLength); }

 private:
  std::mt19937_64 random_;
};

template <class Text>
bool is(std::string_view payload) {
  return std::holds_alternative<Text>(parse_payload(payload));
}

LabelFields example_fields() {
  Draw draw{42};
  return {draw.package(), {"S1", 204}, *CivilDate::from(2026, 11, 25), CivilDate::from(2027, 5, 24), "AK",
          "EXAM01",       "PCH"};
}

const std::string kAuthenticator = "0123456789ABC";

std::string example() {
  return unsigned_payload(LabelForm::Package, example_fields()) + kAuthenticator;
}

// The example with its part `from` replaced by `to`.
std::string with(const std::string& from, const std::string& to) {
  std::string text = example();
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("A label's payload is spelled as the grammar says") {
  const std::string id = example_fields().package.text();
  CHECK(example() == "LL1.S" + id + ".1TS1-204.16D20261125.14D20270524.HAK.PEXAM01.BPCH.Z0123456789ABC");
  LabelFields event_related = example_fields();
  event_related.use_by.reset();
  CHECK(unsigned_payload(LabelForm::ChartCopy, event_related) ==
        "LLC1.S" + id + ".1TS1-204.16D20261125.HAK.PEXAM01.BPCH.Z");
}

TEST_CASE("What is written is read back, over random fields") {
  Draw draw{18004};
  for (int i = 0; i < 5000; ++i) {
    const LabelFields fields = draw.fields();
    const std::string signed_part = unsigned_payload(LabelForm::Package, fields);
    const std::string authenticator = draw.authenticator();
    const auto read = parse_payload(signed_part + authenticator);
    REQUIRE(std::holds_alternative<PackageLabelText>(read));
    CHECK(std::get<PackageLabelText>(read).fields == fields);
    CHECK(std::get<PackageLabelText>(read).signed_part == signed_part);
    CHECK(std::get<PackageLabelText>(read).authenticator == authenticator);
  }
}

TEST_CASE("A payload has at most 87 characters, all of QR's alphanumeric set, and the longest is read") {
  Draw draw{87};
  for (int i = 0; i < 2000; ++i) {
    const auto text = unsigned_payload(LabelForm::Package, draw.fields()) + draw.authenticator();
    CHECK(text.size() <= kLongestPayload);
    CHECK(text.find_first_not_of(kQrAlphanumeric) == std::string::npos);
  }
  LabelFields longest = example_fields();
  longest.load = {"ABC", 99999};
  longest.operator_code = "WXYZ";
  longest.contents = "ABCDEFGH";
  const auto text = unsigned_payload(LabelForm::Package, longest) + kAuthenticator;
  CHECK(text.size() == kLongestPayload);
  CHECK(is<PackageLabelText>(text));
}

TEST_CASE("One character changed anywhere never reads as the same label") {
  const std::string text = example();
  const auto original = std::get<PackageLabelText>(parse_payload(text));
  int still_labels = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    for (int other = 0; other < 256; ++other) {
      std::string changed = text;
      changed[at] = static_cast<char>(other);
      const auto read = parse_payload(changed);
      const auto* label = std::get_if<PackageLabelText>(&read);
      if (label == nullptr || changed == text) continue;
      ++still_labels;
      const bool same_fields = label->fields == original.fields;
      CHECK_FALSE((same_fields && label->authenticator == original.authenticator));
      CHECK(label->signed_part + label->authenticator == changed);
    }
  }
  CHECK(still_labels > 0);  // such as another operator: the authenticator tells
}

TEST_CASE("One character lost or added anywhere never reads as the same label") {
  const std::string text = example();
  const auto original = std::get<PackageLabelText>(parse_payload(text));
  const auto differs = [&](const std::string& changed) {
    const auto read = parse_payload(changed);
    const auto* label = std::get_if<PackageLabelText>(&read);
    return label == nullptr || !(label->fields == original.fields);
  };
  for (std::size_t at = 0; at < text.size(); ++at) {
    CHECK(differs(std::string{text}.erase(at, 1)));
    for (char c : kQrAlphanumeric) CHECK(differs(std::string{text}.insert(at, 1, c)));
  }
}

TEST_CASE("A text around a payload makes it none of ours") {
  for (const std::string& text : {" " + example(), example() + " ", example() + "\r", example() + "\n",
                                  "]Q1" + example(), example() + example(), "ll1" + example().substr(3)}) {
    CHECK(is<NotOursText>(text));
  }
}

TEST_CASE("Empty, overlong, missing and repeated fields make it none of ours") {
  for (const auto& [from, to] :
       std::initializer_list<std::pair<std::string, std::string>>{{".HAK", ".H"},
                                                                  {".HAK", ".HABCDE"},
                                                                  {".HAK", ""},
                                                                  {".HAK", ".HAK.HAK"},
                                                                  {".PEXAM01", ".P"},
                                                                  {".PEXAM01", ".PABCDEFGHI"},
                                                                  {".PEXAM01", ""},
                                                                  {".BPCH", ".B"},
                                                                  {".BPCH", ".BABCD"},
                                                                  {".BPCH", ""},
                                                                  {"S1-204", "-204"},
                                                                  {"S1-204", "S1-"},
                                                                  {"S1-204", "S1-0204"},
                                                                  {"S1-204", "S1-100000"},
                                                                  {"S1-204", "ABCD-204"},
                                                                  {"20261125", "20261131"},
                                                                  {"20261125", "2026112"},
                                                                  {"20261125", "202611250"},
                                                                  {".14D20270524", ".14D"},
                                                                  {"14D20270524", "14D20270230"},
                                                                  {"16D20261125.", ""},
                                                                  {".Z0", ".Z"},
                                                                  {".Z0", ".ZU"},
                                                                  {".Z0", ".Z00"},
                                                                  {".Z", ".Y"},
                                                                  {"HAK.PEXAM01", "PEXAM01.HAK"},
                                                                  {".HAK", "..HAK"}}) {
    INFO(from << " -> " << to);
    CHECK(is<NotOursText>(with(from, to)));
  }
}

TEST_CASE("A chart copy is told from a package, whatever follows its beginning") {
  const auto copy = unsigned_payload(LabelForm::ChartCopy, example_fields()) + kAuthenticator;
  CHECK(is<ChartCopyText>(copy));
  CHECK(is<ChartCopyText>("LLC1."));
  CHECK(is<ChartCopyText>("LLC1.nonsense"));
}

TEST_CASE("A later form is told from something that is not ours") {
  for (const char* later : {"LL2.", "LL2.S0", "LL99.X", "LL100.X", "LLC2.X", "LLS3.X", "LLO10.X"}) {
    CHECK(is<LaterFormText>(later));
  }
  for (const char* foreign : {"", "L", "LL", "LL.", "LL1", "LL0.X", "LL01.X", "LLX2.X", "LL2", "LL2X.",
                              "LL-2.", "LL1000.", "LLCC2.", "ll2.X", "https://example.invalid/LL2."}) {
    INFO(foreign);
    CHECK(is<NotOursText>(foreign));
  }
}

TEST_CASE("Shelf tags and badges are read back, and only whole") {
  const auto tag = parse_payload(unsigned_shelf_tag("OP1SHELF") + kAuthenticator);
  REQUIRE(std::holds_alternative<ShelfTagText>(tag));
  CHECK(std::get<ShelfTagText>(tag).location == "OP1SHELF");
  CHECK(std::get<ShelfTagText>(tag).signed_part == "LLS1.LOP1SHELF.Z");
  const auto badge = parse_payload(unsigned_badge("AK") + kAuthenticator);
  REQUIRE(std::holds_alternative<BadgeText>(badge));
  CHECK(std::get<BadgeText>(badge).operator_code == "AK");
  CHECK(std::get<BadgeText>(badge).signed_part == "LLO1.HAK.Z");
  CHECK(std::get<BadgeText>(badge).authenticator == kAuthenticator);
  for (const char* text :
       {"LLS1.", "LLS1.L.Z0123456789ABC", "LLS1.LTOOLONG12.Z0123456789ABC", "LLS1.HAK.Z0123456789ABC",
        "LLO1.HABCDE.Z0123456789ABC", "LLO1.HAK.HAK.Z0123456789ABC", "LLO1.HAK..Z0123456789ABC", "LLS1.LSHELF..Z0123456789ABC",
        "LLO1.HAK.Z0123456789AB"}) {
    CHECK(is<NotOursText>(text));
  }
}

TEST_CASE("Random bytes are never a label and never a crash") {
  Draw draw{4231};
  std::string any;
  for (int c = 0; c < 256; ++c) any.push_back(static_cast<char>(c));
  for (int i = 0; i < 20000; ++i) {
    const std::string start = std::array{"", "LL1.", "LL1.S", "LLS1.L", "LLO1.H", "LL"}[draw.number(6)];
    const auto read = parse_payload(start + draw.text(i % 2 == 0 ? any : kQrAlphanumeric, draw.number(120)));
    CHECK_FALSE(std::holds_alternative<PackageLabelText>(read));
  }
}

TEST_CASE("Every beginning of a payload is read without a crash, and is no label") {
  const std::string text = example();
  for (std::size_t length = 0; length < text.size(); ++length) {
    CHECK_FALSE(is<PackageLabelText>(text.substr(0, length)));
  }
}
