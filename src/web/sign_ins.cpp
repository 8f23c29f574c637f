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
  browser.seen = browser.touched = now;
  browser.signed_in = true;
  browser.locked = false;
  std::string name = new_name_();
  browsers_.insert_or_assign(name, std::move(browser));
  return name;
}

bool SignIns::is_locked(const Browser& browser, Time now, std::chrono::seconds lock) {
  return browser.locked || now - browser.touched > lock;
}

bool SignIns::is_recent(const Person& person, Time now, std::chrono::seconds lock) {
  return now - person.seen <= std::min<std::chrono::seconds>(kSwitchBack, lock);
}

std::optional<SignIn> SignIns::find(std::string_view cookie, Time now, Touch touch, std::chrono::seconds lock) {
  const std::lock_guard guard{mutex_};
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end() || !found->second.signed_in) return std::nullopt;
  Browser& browser = found->second;
  if (now - browser.seen > kIdle) {
    browsers_.erase(found);
    return std::nullopt;
  }
  browser.seen = now;
  Person& person = browser.people.front();
  browser.locked = is_locked(browser, now, lock);
  if (browser.locked) return SignIn{person.code, false, true, {}};
  if (touch == Touch::ByHand) person.seen = browser.touched = now;
  const bool by_pin = person.pin_at && now - *person.pin_at <= kPinHolds;
  const auto left = std::chrono::ceil<std::chrono::seconds>(browser.touched + lock - now);
  return SignIn{person.code, by_pin, false, left};
}

bool SignIns::unlock(std::string_view cookie, std::string_view operator_code, bool by_pin, Time now) {
  const std::lock_guard lock{mutex_};
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end() || !found->second.signed_in || now - found->second.seen > kIdle) return false;
  Browser& browser = found->second;
  Person& person = browser.people.front();
  if (person.code != operator_code) return false;
  person.pin_at = by_pin ? std::optional{now} : std::nullopt;
  person.seen = browser.seen = browser.touched = now;
  browser.locked = false;
  return true;
}

std::vector<std::string> SignIns::recent(std::string_view cookie, Time now, std::chrono::seconds lock) const {
  const std::lock_guard guard{mutex_};
  std::vector<std::string> codes;
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end()) return codes;
  const Browser& browser = found->second;
  if (is_locked(browser, now, lock)) return codes;
  for (std::size_t i = browser.signed_in ? 1 : 0; i < browser.people.size(); ++i) {
    if (is_recent(browser.people[i], now, lock)) codes.push_back(browser.people[i].code);
  }
  return codes;
}

bool SignIns::switch_to(std::string_view cookie, std::string_view operator_code, Time now,
                        std::chrono::seconds lock) {
  const std::lock_guard guard{mutex_};
  const auto found = browsers_.find(cookie);
  if (found == browsers_.end() || is_locked(found->second, now, lock)) return false;
  auto& people = found->second.people;
  const auto person = std::find_if(people.begin(), people.end(),
                                   [&](const Person& each) { return each.code == operator_code; });
  if (person == people.end() || !is_recent(*person, now, lock)) return false;
  for (Person& each : people) each.pin_at.reset();
  person->seen = now;
  std::rotate(people.begin(), person, person + 1);
  found->second.signed_in = true;
  found->second.seen = found->second.touched = now;
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
