#include "cli/context.h"

#include <filesystem>
#include <iostream>

namespace loadlight::cli {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::size_t kLargestWords = 4u << 20;
constexpr std::size_t kLargestTemplate = 1u << 20;

int exit_status(core::FailureKind kind) {
  switch (kind) {
    case core::FailureKind::Usage:
      return kWrongUsage;
    case core::FailureKind::Refused:
      return kRefused;
    case core::FailureKind::Failed:
      return kFailed;
  }
  return kFailed;
}

// Template names are file names of our own folder and nothing else.
bool is_plain_name(std::string_view name) {
  return !name.empty() && name.size() <= 40 &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

// Bytes that are not UTF-8 came from the command line; JSON shows them replaced.
std::string dumped(const Json& object) {
  return object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Result<report::Words> load_words(const World& world, std::string_view language) {
  const std::string path = world.templates_folder + "/words/" + std::string{language} + ".json";
  const auto text = world.files.read(path, kLargestWords);
  if (!text) return Failure{FailureCode::WordsUnreadable, {{"path", path}, {"why", "absent"}}, {}};
  return report::Words::parse(*text);
}

Result<std::unique_ptr<OpenOffice>> Context::dress(OfficeLeaves leaves) const {
  std::string zone_name;
  {
    const auto unit = leaves.store->begin(port::Access::Read);
    if (!unit) return unit.failure();
    const auto office = (*unit)->office();
    if (!office) return office.failure();
    zone_name = office->zone;
  }
  auto zone = world.open_zone(zone_name);
  if (!zone) return zone.failure();
  port::Store& store = *leaves.store;
  const port::Keyring& keyring = *leaves.keyring;
  const port::Zone& open_zone = **zone;
  return std::unique_ptr<OpenOffice>{new OpenOffice{std::move(leaves), std::move(*zone),
                                                    app::Ports{store, world.clock, open_zone, keyring}}};
}

Result<std::unique_ptr<OpenOffice>> Context::open_office() const {
  auto leaves = world.open_office(office_folder);
  if (!leaves) return leaves.failure();
  return dress(std::move(*leaves));
}

Result<label::LabelTemplate> Context::find_template(std::string_view name) const {
  const core::Details details{{"template", std::string{name}}};
  if (!is_plain_name(name)) return Failure{FailureCode::TemplateUnknown, details, {}};
  const std::string path = world.templates_folder + "/labels/" + std::string{name} + ".label";
  const auto text = world.files.read(path, kLargestTemplate);
  if (!text) return Failure{FailureCode::TemplateUnknown, details, {}};
  return label::parse_template(name, *text);
}

Result<std::unique_ptr<OpenShop>> Context::open_shop() const {
  auto leaves = world.open_printing();
  if (!leaves) return leaves.failure();
  const auto worded = [this](std::string_view key, const core::Details& gaps) {
    return words->has(key) ? std::optional{words->text(key, gaps)} : std::nullopt;
  };
  const auto& encoder = *leaves->encoder;
  const auto& gauge = *leaves->gauge;
  const auto& press = *leaves->press;
  return std::unique_ptr<OpenShop>{new OpenShop{
      std::move(*leaves), app::PrintShop{encoder, gauge, press, world.files, worded,
                                         [this](std::string_view name) { return find_template(name); }}}};
}

Result<void> Context::spare_the_office(const std::string& out) const {
  namespace fs = std::filesystem;
  std::error_code unresolved;  // then it is in no folder, and writing it says why
  const fs::path file = fs::weakly_canonical(fs::absolute(out, unresolved), unresolved);
  const fs::path folder = fs::weakly_canonical(fs::absolute(office_folder, unresolved), unresolved);
  const std::string kind = file.extension();
  const bool printed = kind == ".pdf" || kind == ".csv" || kind == ".svg" || kind == ".html";
  if (unresolved || file.parent_path() != folder || printed) return {};
  return Failure{core::FailureCode::BadValue,
                 {{"field", "out"}, {"given", out}, {"what", text("usage.out-in-office")}},
                 {}};
}

std::string Context::text(std::string_view key, const core::Details& details) const {
  return words->text(key, details);
}

void Context::answer(const Json& object, const std::string& for_people) const {
  if (json) {
    std::cout << dumped(object) << std::endl;
  } else if (!for_people.empty()) {
    std::cout << for_people << std::endl;
  }
}

void Context::tell(const std::string& text) const {
  std::cerr << text << std::endl;
}

int Context::fail(const Failure& failure) const {
  const std::string code{core::to_text(failure.code)};
  std::string said = text("failure." + code + ".text", failure.details);
  const std::string advice = text("failure." + code + ".action", failure.details);
  Json items = Json::array();
  for (const core::Sentence& item : failure.items) items.push_back(words->text(item));
  if (json && std::cout.good()) {
    Json object{{"error", code}, {"text", said}, {"action", advice}};
    if (!items.empty()) object["items"] = items;
    std::cout << dumped(object) << std::endl;
    return exit_status(core::kind_of(failure.code));
  }
  for (const auto& item : items) said += "\n  - " + item.get<std::string>();
  tell(said + "\n" + advice);
  return exit_status(core::kind_of(failure.code));
}

int Context::delivered(int status) const {
  if (std::cout.flush().good()) return status;
  return fail({FailureCode::FileUnwritable, {{"path", "-"}, {"why", "write"}}, {}});
}

}  // namespace loadlight::cli
