// Who is signed in where. Each browser carries a random name in a cookie; what it stands for is kept here, in
// memory: a restart signs everybody out.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loadlight::web {

// One person at one browser.
struct SignIn final {
  std::string operator_code;
  bool by_pin = false;  // and not so long ago that a release would need it anew
  bool locked = false;  // nobody touched the browser for a while: it acts for nobody until they show who they are
  std::chrono::seconds left{0};  // until it is locked, if nobody touches it
};

// What a request says about whether somebody is there. Pages ask for news by themselves.
enum class Touch { ByHand, ByItself };

class SignIns final {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::minutes kIdle{60};     // without a request: signed out
  static constexpr std::chrono::minutes kPinHolds{15};  // since the PIN was given, or last needed
  static constexpr std::chrono::minutes kSwitchBack{10};
  static constexpr std::chrono::minutes kLock{10};  // unless the office says otherwise
  static constexpr std::size_t kMost = 500;  // browsers; whoever was idle longest goes first

  explicit SignIns(std::function<std::string()> new_name) : new_name_(std::move(new_name)) {}

  // The new name of the browser's cookie: the one from before the sign-in is worth nothing any more.
  std::string begin(std::string_view cookie, std::string_view operator_code, bool by_pin, Time now);
  // Whoever is signed in; also counts as a request. More than `lock` after the last touch the browser is locked
  // and stays so, whatever it asks.
  std::optional<SignIn> find(std::string_view cookie, Time now, Touch touch, std::chrono::seconds lock = kLock);
  // Whoever it was locked for is back, by PIN or badge: the browser keeps its name, and so its half-filled forms.
  // False for anybody else.
  bool unlock(std::string_view cookie, std::string_view operator_code, bool by_pin, Time now);
  // Others who were signed in at this browser a short while ago, newest first: operators take turns. Nobody, once
  // it is locked, and nobody who left longer ago than `lock`.
  std::vector<std::string> recent(std::string_view cookie, Time now, std::chrono::seconds lock = kLock) const;
  // Back to one of those, without the rights that a PIN gives. False when it is too long ago.
  bool switch_to(std::string_view cookie, std::string_view operator_code, Time now,
                 std::chrono::seconds lock = kLock);
  void end(std::string_view cookie);
  // Everywhere, when an operator was retired or given another PIN.
  void end_all_of(std::string_view operator_code);

 private:
  struct Person final {
    std::string code;
    Time seen{};
    std::optional<Time> pin_at;
  };
  struct Browser final {
    std::vector<Person> people;  // the one signed in first
    Time seen{};
    Time touched{};
    bool signed_in = false;
    bool locked = false;
  };
  static bool is_locked(const Browser& browser, Time now, std::chrono::seconds lock);
  static bool is_recent(const Person& person, Time now, std::chrono::seconds lock);

  void forget_idle(Time now);

  std::function<std::string()> new_name_;
  mutable std::mutex mutex_;
  std::map<std::string, Browser, std::less<>> browsers_;
};

}  // namespace loadlight::web
