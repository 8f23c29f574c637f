#include "web/sign_ins.h"

#include <algorithm>

namespace loadlight::web {

void SignIns::forget_idle(Time now) {
  std::erase_if(browsers_, [now](const auto& entry) { return now - entry.second.seen > kIdle; });
  while (browsers_.size() >= kMost) {
    browsers_.erase(std::min_element(browsers_.begin(), browsers_.end(), [](const auto& a, const auto& b) {
      return a.second.seen < b.second.seen;
    }));
  }
}

std::string SignIns::begin(std::string_view cookie, std::string_view operator_code, bool by_pin, Time now) {
  const std::lock_guard lock{mutex_};
  Browser browser;
  if (const auto before = browsers_.find(cookie); before != browsers_.end()) {
    browser = std::move(before->second);
    browsers_.erase(before);
  }
  forget_idle(now);
  std::erase_if(browser.people, [&](const Person& person) { return person.code == operator_code; });
  for (Person& other : browser.people) other.pin_at.reset();
  browser.people.insert(browser.people.begin(), Person{std::string{operator_code}, now,
                                                       by_pin ? std::optional{now} : std::nullopt});
  if (browser.people.size() > 8) browser.people.resize(8);
  browser.seen = now;
  browser.signed_in = true;
  std::string name = new_name_();
  browsers_.insert_or_assign(name, std::move(browser));
  return name;
}

std::optional<SignIn> SignIns::find(std::string_view cookie, Time now) {
  const std::lock_guard lock{mutex_};
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end() || !found->second.signed_in) return std::nullopt;
  Browser& browser = found->second;
  if (now - browser.seen > kIdle) {
    browsers_.erase(found);
    return std::nullopt;
  }
  browser.seen = now;
  Person& person = browser.people.front();
  person.seen = now;
  const bool by_pin = person.pin_at && now - *person.pin_at <= kPinHolds;
  return SignIn{person.code, by_pin};
}

std::vector<std::string> SignIns::recent(std::string_view cookie, Time now) const {
  const std::lock_guard lock{mutex_};
  std::vector<std::string> codes;
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end()) return codes;
  const Browser& browser = found->second;
  for (std::size_t i = browser.signed_in ? 1 : 0; i < browser.people.size(); ++i) {
    if (now - browser.people[i].seen <= kSwitchBack) codes.push_back(browser.people[i].code);
  }
  return codes;
}

bool SignIns::switch_to(std::string_view cookie, std::string_view operator_code, Time now) {
  const std::lock_guard lock{mutex_};
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end()) return false;
  auto& people = found->second.people;
  const auto person = std::find_if(people.begin(), people.end(),
                                   [&](const Person& each) { return each.code == operator_code; });
  if (person == people.end() || now - person->seen > kSwitchBack) return false;
  for (Person& each : people) each.pin_at.reset();
  person->seen = now;
  std::rotate(people.begin(), person, person + 1);
  found->second.signed_in = true;
  found->second.seen = now;
  return true;
}

void SignIns::end(std::string_view cookie) {
  const std::lock_guard lock{mutex_};
  const auto found = browsers_.find(cookie);
  if (found != browsers_.end()) browsers_.erase(found);
}

void SignIns::end_all_of(std::string_view operator_code) {
  const std::lock_guard lock{mutex_};
  for (auto& [name, browser] : browsers_) {
    const bool current = !browser.people.empty() && browser.people.front().code == operator_code;
    if (current) browser.signed_in = false;
    std::erase_if(browser.people, [&](const Person& person) { return person.code == operator_code; });
  }
}

}  // namespace loadlight::web
