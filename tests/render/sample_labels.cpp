#include "render/sample_labels.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "loadlight/core/payload.h"

namespace loadlight::tests {
namespace {

using label::Field;
using label::LabelContent;
using label::Subject;

const std::string kTemplates = std::string{LOADLIGHT_SOURCE_DIR} + "/templates/";

core::PackageId package_id(int number) {
  for (int i = number * 40 + 1;; ++i) {
    const auto low = static_cast<std::uint32_t>(i) * 2654435761u;
    const std::array<std::uint8_t, 6> bytes{
        static_cast<std::uint8_t>(low >> 24), static_cast<std::uint8_t>(low >> 16),
        static_cast<std::uint8_t>(low >> 8),  static_cast<std::uint8_t>(low),
        static_cast<std::uint8_t>(i * 91),    static_cast<std::uint8_t>(i * 13)};
    if (auto id = core::PackageId::from_random(bytes)) return *id;
  }
}

core::LabelFields fields_of(int number, Length length, ShelfLife shelf_life) {
  const bool longest = length == Length::Longest;
  core::LabelFields fields{package_id(number),
                           {longest ? "W8W" : "S1", longest ? 88888 : 204},
                           *core::CivilDate::from(2026, 11, 25),
                           *core::CivilDate::from(2027, 5, 25),
                           longest ? "WMWM" : "AB",
                           longest ? "WWWWWWW8" : "HYGBASIC",
                           longest ? "WWW" : "POU"};
  if (shelf_life == ShelfLife::EventRelated) fields.use_by.reset();
  return fields;
}

constexpr std::array<std::string_view, 6> kContents{
    "Hygiene set, basic", "Surgical extraction, lower", "Endodontic set with rotary files and obturation",
    "Mirror and probe",   "Implant kit, second stage",  "Handpiece, contra-angle"};

LabelContent package_label(int number, Length length, ShelfLife shelf_life) {
  const auto fields = fields_of(number, length, shelf_life);
  LabelContent content;
  const bool longest = length == Length::Longest;
  content.values = {{Field::Contents,
                     longest ? fields.contents
                             : std::string{kContents[static_cast<std::size_t>(number) % kContents.size()]}},
                    {Field::Items, "mirror, probe, two scalers, two curettes, tweezers, cotton pliers"},
                    {Field::Operator, fields.operator_code},
                    {Field::Sterilizer, fields.load.sterilizer},
                    {Field::Load, std::to_string(fields.load.number)},
                    {Field::ProcessDate, fields.process_date.iso()},
                    {Field::Package, fields.package.grouped()},
                    {Field::Kind, "Pouch"},
                    {Field::Count, "24"},
                    {Field::Office, "Harbour Lane Dental"}};
  if (fields.use_by) {
    content.values[Field::UseBy] = fields.use_by->iso();
  } else {
    content.values[Field::EventRelated] = *english()("label.event-related", {});
  }
  content.payload = core::unsigned_payload(core::LabelForm::Package, fields) + "ABCDEFGHJKMNP";
  content.chart_payload = core::unsigned_payload(core::LabelForm::ChartCopy, fields) + "ABCDEFGHJKMNP";
  return content;
}

LabelContent shelf_tag(int number, Length length) {
  const std::string code = length == Length::Longest ? "WWWWWWW8" : "A" + std::to_string(number + 1);
  LabelContent content;
  content.values = {{Field::Location, code},
                    {Field::LocationName, "Cabinet left of the window, third drawer"}};
  content.payload = core::unsigned_shelf_tag(code) + "ABCDEFGHJKMNP";
  return content;
}

}  // namespace

std::string file_text(const std::string& path) {
  std::ifstream file{path, std::ios::binary};
  if (!file) throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<std::string> template_names() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator{kTemplates + "labels"}) {
    if (entry.path().extension() == ".label") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

label::LabelTemplate read_template(const std::string& name) {
  auto made = label::parse_template(name, file_text(kTemplates + "labels/" + name + ".label"));
  if (made) return *std::move(made);
  std::string problem = name;
  for (const auto& [key, value] : made.failure().details) problem += " " + key + "=" + value;
  throw std::runtime_error(problem);
}

const label::Words& english() {
  static const auto catalogue = nlohmann::json::parse(file_text(kTemplates + "words/en.json"));
  static const label::Words words = [](std::string_view key, const core::Details& gaps) {
    const auto found = catalogue.find(std::string{key});
    if (found == catalogue.end()) return std::optional<std::string>{};
    std::string text = *found;
    for (const auto& [name, value] : gaps) {
      const std::string gap = "{" + name + "}";
      for (auto at = text.find(gap); at != std::string::npos; at = text.find(gap)) {
        text.replace(at, gap.size(), value);
      }
    }
    return std::optional{text};
  };
  return words;
}

LabelContent sample_label(Subject subject, int number, Length length, ShelfLife shelf_life) {
  return subject == Subject::ShelfTag ? shelf_tag(number, length) : package_label(number, length, shelf_life);
}

std::vector<LabelContent> sample_labels(Subject subject, int count, Length length, ShelfLife shelf_life) {
  std::vector<LabelContent> labels;
  for (int i = 0; i < count; ++i) labels.push_back(sample_label(subject, i, length, shelf_life));
  return labels;
}

}  // namespace loadlight::tests
