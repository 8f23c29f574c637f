#include "web/desk.h"

#include <sys/stat.h>

#include "loadlight/app/cut_off.h"

namespace loadlight::web {
namespace {

using core::Result;

// Device and number of the record's file; zeros when it is not there.
std::pair<unsigned long, unsigned long> identity_of(const std::string& folder) {
  struct stat status {};
  if (::stat((folder + "/record.db").c_str(), &status) != 0) return {};
  return {static_cast<unsigned long>(status.st_dev), static_cast<unsigned long>(status.st_ino)};
}

// The newest event's time alone would miss what is written while the clock is behind it.
std::optional<std::string> newest_state(Desk& desk) {
  const auto office = desk.office();
  if (!office) return std::nullopt;
  const auto reading = app::begin_reading((*office)->ports);
  if (!reading) return std::nullopt;
  const auto newest = reading->unit().newest_event();
  const auto last = reading->unit().last_entry();
  if (!newest || !last) return std::nullopt;
  const std::string copy = reading->copy ? "copy." + std::to_string(reading->copy->waiting.size()) + "." : "";
  return copy + (*newest ? std::to_string(core::to_milliseconds(**newest)) : std::string{"0"}) + "." + std::to_string(*last);
}

std::optional<std::string> language_of(const Result<std::shared_ptr<app::OpenOffice>>& office) {
  if (!office) return std::nullopt;
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return std::nullopt;
  const auto settings = (*unit)->office();
  if (!settings) return std::nullopt;
  return settings->language;
}

}  // namespace

Desk::Desk(const app::World& world, std::string office_folder)
    : world_(world),
      folder_(std::move(office_folder)),
      pins_(world.open_pins(folder_)) {}

Result<std::unique_ptr<Desk>> Desk::open(const app::World& world, std::string office_folder) {
  std::unique_ptr<Desk> desk{new Desk{world, std::move(office_folder)}};
  for (const auto& [code, name] : kLanguages) {
    auto words = app::load_words(world, code);
    if (!words && code == "en") return words.failure();
    if (!words) continue;
    desk->languages_.emplace(std::string{code},
                             std::make_unique<Language>(world, std::string{code}, std::move(*words)));
  }
  News::Listen listen;
  if (world.group.listen) {
    listen = [&world, office = desk->folder_](std::function<void()> changed) { return world.group.listen(office, std::move(changed)); };
  }
  desk->news_ = std::make_unique<News>([&desk = *desk] { return newest_state(desk); }, std::move(listen));
  return desk;
}

Result<std::shared_ptr<app::OpenOffice>> Desk::office() {
  const std::lock_guard lock{mutex_};
  const auto files = identity_of(world_.files_of(folder_));
  if (office_ && files == office_files_) return office_;
  office_.reset();
  auto opened = app::open_office(world_, folder_);
  if (!opened && had_office_ && opened.failure().code == core::FailureCode::OfficeAbsent) {
    return core::Failure{core::FailureCode::OfficeUnreadable, {{"path", folder_}, {"why", "absent"}}, {}};
  }
  if (!opened) return opened.failure();
  office_ = std::move(*opened);
  office_files_ = files;
  had_office_ = true;
  return office_;
}

Result<std::shared_ptr<app::OpenOffice>> Desk::adopt(app::OfficeLeaves leaves) {
  auto dressed = app::dress_office(world_, std::move(leaves));
  if (!dressed) return dressed.failure();
  const std::lock_guard lock{mutex_};
  office_ = std::move(*dressed);
  office_files_ = identity_of(world_.files_of(folder_));
  had_office_ = true;
  return office_;
}

const Language& Desk::language(std::string_view code) const {
  const auto found = languages_.find(code);
  return found == languages_.end() ? *languages_.find("en")->second : *found->second;
}

Result<const app::SeeingLeaves*> Desk::seeing() {
  const std::lock_guard lock{mutex_};
  if (!seeing_) {
    auto opened = world_.open_seeing();
    if (!opened) return opened.failure();
    seeing_ = std::move(*opened);
  }
  return &*seeing_;
}

Result<const app::OpenShop*> Desk::shop(const Language& reader) {
  const Language& labels = language(language_of(office()).value_or(reader.code));
  const std::lock_guard lock{mutex_};
  auto& shop = shops_[labels.code];
  if (!shop) {
    auto opened = app::open_shop(world_, labels.words);
    if (!opened) return opened.failure();
    shop = std::move(*opened);
  }
  return shop.get();
}

}  // namespace loadlight::web
