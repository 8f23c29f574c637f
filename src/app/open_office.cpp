#include "loadlight/app/open_office.h"

#include <optional>

#include "loadlight/app/cut_off.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestWords = 4u << 20;
constexpr std::size_t kLargestTemplate = 1u << 20;

// Template names are file names of our own folder and nothing else.
bool is_plain_name(std::string_view name) {
  return !name.empty() && name.size() <= 40 &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

}  // namespace

Result<report::Words> load_words(const World& world, std::string_view language) {
  const std::string path = world.templates_folder + "/words/" + std::string{language} + ".json";
  const auto text = world.files.read(path, kLargestWords);
  if (!text) return Failure{FailureCode::WordsUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  return report::Words::parse(*text);
}

Result<std::unique_ptr<OpenOffice>> dress_office(const World& world, OfficeLeaves leaves) {
  const auto zone_name = zone_name_of(*leaves.store, leaves.copy.get(), world.clock);
  if (!zone_name) return zone_name.failure();
  auto zone = world.open_zone(*zone_name);
  if (!zone) return zone.failure();
  port::Store& store = *leaves.store;
  const port::Keyring& keyring = *leaves.keyring;
  port::LocalCopy* copy = leaves.copy.get();
  const port::Zone& open_zone = **zone;
  return std::unique_ptr<OpenOffice>{
      new OpenOffice{std::move(leaves), std::move(*zone), Ports{store, world.clock, open_zone, keyring, copy}}};
}

Result<std::unique_ptr<OpenOffice>> open_office(const World& world, const std::string& folder) {
  auto leaves = world.open_office(folder);
  if (!leaves) return leaves.failure();
  return dress_office(world, std::move(*leaves));
}

Result<label::LabelTemplate> find_template(const World& world, std::string_view name) {
  const core::Details details{{"template", std::string{name}}};
  if (!is_plain_name(name)) return Failure{FailureCode::TemplateUnknown, details, {}};
  const std::string path = world.templates_folder + "/labels/" + std::string{name} + ".label";
  const auto text = world.files.read(path, kLargestTemplate);
  if (!text) return Failure{FailureCode::TemplateUnknown, details, {}};
  return label::parse_template(name, *text);
}

Result<std::unique_ptr<OpenShop>> open_shop(const World& world, const report::Words& words) {
  auto leaves = world.open_printing();
  if (!leaves) return leaves.failure();
  const auto worded = [&words](std::string_view key, const core::Details& gaps) {
    return words.has(key) ? std::optional{words.text(key, gaps)} : std::nullopt;
  };
  const auto& encoder = *leaves->encoder;
  const auto& gauge = *leaves->gauge;
  const auto& press = *leaves->press;
  return std::unique_ptr<OpenShop>{
      new OpenShop{std::move(*leaves),
                   PrintShop{encoder, gauge, press, world.files, worded,
                             [&world](std::string_view name) { return find_template(world, name); }}}};
}

}  // namespace loadlight::app
