// What all visits share: the office, the words and templates of each language, who is signed in, what pages
// keep between two requests. Thread-safe.
#pragma once

#include <any>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <typeindex>
#include <utility>

#include "loadlight/app/open_office.h"
#include "loadlight/app/world.h"
#include "loadlight/report/words.h"
#include "web/news.h"
#include "web/once_book.h"
#include "web/page_templates.h"
#include "web/secrets.h"
#include "web/sign_ins.h"

namespace loadlight::web {

// The languages there are catalogues of, in the order they are offered.
inline constexpr std::pair<std::string_view, std::string_view> kLanguages[] = {{"en", "English"},
                                                                               {"es", "Español"}};

struct Language final {
  Language(const app::World& world, std::string language_code, report::Words catalogue)
      : code(std::move(language_code)), words(std::move(catalogue)), pages(world, words) {}
  std::string code;
  report::Words words;
  PageTemplates pages;
};

class Desk final {
 public:
  // The words of English must be there: WordsUnreadable else.
  static core::Result<std::unique_ptr<Desk>> open(const app::World& world, std::string office_folder);

  const app::World& world() const { return world_; }
  const std::string& office_folder() const { return folder_; }

  // The office. It is opened anew when its files are no longer those that were opened: a folder that was moved
  // away or put back from a backup must not be judged by what it held before. One that was open here and is away
  // now is OfficeUnreadable and not OfficeAbsent: it may come back, and no new one is to take its place.
  core::Result<std::shared_ptr<app::OpenOffice>> office();
  // Once an office was made here.
  core::Result<std::shared_ptr<app::OpenOffice>> adopt(app::OfficeLeaves leaves);

  // The named language, or English.
  const Language& language(std::string_view code) const;

  core::Result<const app::SeeingLeaves*> seeing();
  // Labels are worded in the office's language, so that one printed again is the same; without an office in the
  // reader's.
  core::Result<const app::OpenShop*> shop(const Language& reader);
  port::PinBook& pins() { return *pins_; }
  SignIns& sign_ins() { return sign_ins_; }
  OnceBook& once() { return once_; }
  News& news() { return *news_; }
  const FormSeal& seal() const { return seal_; }

  // What a page keeps between requests, made when it is first asked for. T locks itself.
  template <class T>
  T& kept() {
    const std::lock_guard lock{mutex_};
    auto& place = kept_[std::type_index(typeid(T))];
    if (!place) place = std::make_shared<T>();
    return *static_cast<T*>(place.get());
  }

 private:
  Desk(const app::World& world, std::string office_folder);

  const app::World& world_;
  std::string folder_;
  FormSeal seal_;
  std::map<std::string, std::unique_ptr<Language>, std::less<>> languages_;
  std::mutex mutex_;
  std::shared_ptr<app::OpenOffice> office_;
  bool had_office_ = false;
  std::pair<unsigned long, unsigned long> office_files_;  // what tells one database file from another
  std::optional<app::SeeingLeaves> seeing_;
  std::map<std::string, std::unique_ptr<app::OpenShop>, std::less<>> shops_;
  std::unique_ptr<port::PinBook> pins_;
  SignIns sign_ins_{random_name};
  OnceBook once_;
  std::map<std::type_index, std::shared_ptr<void>> kept_;
  std::unique_ptr<News> news_;  // last: its thread asks for the office
};

}  // namespace loadlight::web
