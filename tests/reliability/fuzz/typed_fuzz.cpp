// What people type and scripts pass: package ids, load names, codes, visit references and dates.
//
// Promises: an id's check character holds; its spellings (grouped, lower case, with blanks, I for 1, O for 0) are one
// id and a changed character is none; names and dates are written again as they were read.
#include <cctype>

#include "fuzz_input.h"
#include "loadlight/core/check_character.h"
#include "loadlight/core/dates.h"
#include "loadlight/core/names.h"

namespace loadlight::fuzz {
namespace {

using namespace core;

std::string respelled(std::string_view id) {
  std::string typed;
  for (const char c : id) {
    typed += c == '1' ? 'l' : c == '0' ? 'o' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    typed += ' ';
  }
  return typed;
}

void try_id(std::string_view text) {
  const auto id = PackageId::parse_typed(text);
  if (const auto exact = PackageId::parse_exact(text)) {
    promise(exact->text() == text, "an exact id is what was given");
    promise(id == exact, "an exact id may be typed, too");
  }
  if (!id) return;
  promise(id->text().size() == PackageId::kLength && check_character_fits(id->text()), "the check character holds");
  promise(id->text().find_first_of("ILOU") == std::string::npos, "no letter that is taken for another");
  promise(PackageId::parse_exact(id->text()) == id, "an id is one in a payload, too");
  promise(PackageId::parse_typed(id->grouped()) == id, "grouped or not is one id");
  promise(PackageId::parse_typed(respelled(id->text())) == id, "case, blanks and look-alikes are one id");
  std::string slipped = id->text();
  slipped[text.size() % slipped.size()] = slipped[text.size() % slipped.size()] == '7' ? '8' : '7';
  promise(!PackageId::parse_typed(slipped), "a changed character is no id");
}

void try_names(std::string_view text) {
  if (const auto load = LoadName::parse(text)) {
    promise(load->text() == text, "a load's name is written as it was");
    promise(load->number >= 1 && load->number <= LoadName::kLastNumber, "a load's number is in its range");
    promise(is_code(load->sterilizer, kSterilizerCodeLength), "a load's sterilizer is a code");
  }
  for (std::size_t longest = 1; longest <= 8; ++longest) {
    promise(!is_code(text, longest) || (!text.empty() && text.size() <= longest), "a code is no longer than it may be");
  }
  if (is_visit_reference(text)) {
    promise(text.size() >= 3 && text.size() <= 16, "a visit reference has its length");
    promise(text.find_first_of("0123456789") != std::string_view::npos, "a visit reference has a digit");
    promise(text.find_first_of(" .,abcdefghijklmnopqrstuvwxyz") == std::string_view::npos, "and is no name");
  }
}

void try_dates(std::string_view text) {
  const auto basic = CivilDate::parse_basic(text);
  const auto iso = CivilDate::parse_iso(text);
  promise(!basic || basic->basic() == text, "a date on a label is written as it was");
  promise(!iso || iso->iso() == text, "a date is written as it was");
  for (const auto& day : {basic, iso}) {
    if (!day) continue;
    promise(CivilDate::parse_iso(day->iso()) == day && CivilDate::parse_basic(day->basic()) == day, "both forms agree");
    if (day->basic() < "99980101") promise(day->days_until(day->plus_days(30)) == 30, "days are counted");
    if (day->basic() < "99980101") promise(day->plus_months(1) > *day, "a month later is later");
  }
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = loadlight::fuzz::Input{data, size}.rest();
  loadlight::fuzz::try_id(text);
  loadlight::fuzz::try_names(text);
  loadlight::fuzz::try_dates(text);
  return 0;
}
