#include "loadlight/system/pin_book.h"

#include <sodium.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>

#include "atomic_write.h"
#include "loadlight/system/files.h"
#include "whole_number.h"

namespace loadlight::system {
namespace {

using core::Failure;
using core::FailureCode;
using core::Instant;
using core::Result;
using nlohmann::json;
using port::PinAnswer;
using port::PinCheck;

constexpr std::size_t kLargestBook = 1 << 20;  // bytes
constexpr int kFreeTries = 3;                  // wrong ones that cost no wait
constexpr int kLongestDoubling = 10;           // 1, 2, 4 ... 1024 seconds
constexpr std::int64_t kMostCounted = 1'000'000;
constexpr std::int64_t kLatest = 253'402'300'799'999;  // milliseconds: the end of the year 9999

struct Pin final {
  std::string hash;
  int wrong = 0;  // in a row
  Instant last_wrong{};
};
using Pins = std::map<std::string, Pin, std::less<>>;

std::chrono::seconds wait_after(int wrong) {
  if (wrong < kFreeTries) return std::chrono::seconds{0};
  return std::chrono::seconds{1LL << std::min(wrong - kFreeTries, kLongestDoubling)};
}

// What is left of the wait. A clock that was set back counts as no time gone: the wait begins anew (check).
std::chrono::seconds wait_left(const Pin& pin, Instant now) {
  const auto gone = std::max(now - pin.last_wrong, Instant::duration::zero());
  const auto left = std::chrono::ceil<std::chrono::seconds>(wait_after(pin.wrong) - gone);
  return std::max(left, std::chrono::seconds{0});
}

std::string print(const Pins& pins) {
  json list = json::array();
  for (const auto& [code, pin] : pins) {
    list.push_back({{"operator", code},
                    {"hash", pin.hash},
                    {"wrong", pin.wrong},
                    {"last_wrong", core::to_milliseconds(pin.last_wrong)}});
  }
  return json{{"pins", list}}.dump(1) + "\n";
}

// Throws std::exception on any other shape; a count below zero, which would give tries away, is one.
Pins parse(const std::string& text) {
  Pins pins;
  const json book = json::parse(text);
  for (const json& entry : book.at("pins")) {
    Pin pin{entry.at("hash").get<std::string>(), static_cast<int>(whole_number(entry.at("wrong"), 0, kMostCounted).value()),
            core::instant_from(whole_number(entry.at("last_wrong"), -kLatest, kLatest).value())};
    pins.insert_or_assign(entry.at("operator").get<std::string>(), std::move(pin));
  }
  return pins;
}

class FilePinBook final : public port::PinBook {
 public:
  explicit FilePinBook(std::string path) : path_(std::move(path)) {}

  Result<PinCheck> check(std::string_view code, std::string_view given, Instant now) override {
    const std::lock_guard lock{mutex_};
    auto pins = read();
    if (!pins) return pins.failure();
    const auto found = pins->find(code);
    if (found == pins->end()) return PinCheck{};
    Pin& pin = found->second;
    if (pin.wrong >= kMostWrong) return PinCheck{PinAnswer::Locked, {}};
    if (pin.last_wrong > now) {  // or nobody might come in before the day that a wrong clock once showed
      pin.last_wrong = now;
      if (const auto begun = write(*pins); !begun) return begun.failure();
    }
    if (const auto left = wait_left(pin, now); left.count() > 0) return PinCheck{PinAnswer::Wait, left};
    return compare(*pins, pin, given, now);
  }

  Result<void> set(std::string_view code, std::string_view given) override {
    const std::lock_guard lock{mutex_};
    auto pins = read();
    if (!pins) return pins.failure();
    char hash[crypto_pwhash_STRBYTES];
    if (crypto_pwhash_str(hash, given.data(), given.size(), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                          crypto_pwhash_MEMLIMIT_INTERACTIVE) != 0) {
      return Failure{FailureCode::Internal, {{"why", "memory"}}, {}};
    }
    pins->insert_or_assign(std::string{code}, Pin{hash, 0, {}});
    return write(*pins);
  }

  Result<void> remove(std::string_view code) override {
    const std::lock_guard lock{mutex_};
    auto pins = read();
    if (!pins) return pins.failure();
    const auto found = pins->find(code);
    if (found == pins->end()) return {};
    pins->erase(found);
    return write(*pins);
  }

  Result<bool> has(std::string_view code) const override {
    const std::lock_guard lock{mutex_};
    const auto pins = read();
    if (!pins) return pins.failure();
    return pins->contains(code);
  }

 private:
  // A wrong try counts before it is compared: whoever pulls the plug does not get it for nothing.
  Result<PinCheck> compare(Pins& pins, Pin& pin, std::string_view given, Instant now) {
    ++pin.wrong;
    pin.last_wrong = now;
    if (const auto counted = write(pins); !counted) return counted.failure();
    if (crypto_pwhash_str_verify(pin.hash.c_str(), given.data(), given.size()) != 0) {
      return PinCheck{PinAnswer::Wrong, wait_after(pin.wrong)};
    }
    pin.wrong = 0;
    pin.last_wrong = {};
    if (const auto cleared = write(pins); !cleared) return cleared.failure();
    return PinCheck{PinAnswer::Right, {}};
  }

  Result<Pins> read() const {
    if (sodium_init() < 0) return Failure{FailureCode::Internal, {}, {}};
    std::error_code absent;
    if (!std::filesystem::exists(path_, absent) && !absent) return Pins{};
    const auto text = read_whole_file(path_, kLargestBook);
    if (!text) return unreadable(text.failure().details.back().second);
    try {
      return parse(*text);
    } catch (const std::exception&) {
      return unreadable("malformed");
    }
  }

  Failure unreadable(const std::string& why) const {
    return {FailureCode::PinsUnreadable, {{"path", path_}, {"why", why}}, {}};
  }

  Result<void> write(const Pins& pins) const { return write_atomically(path_, print(pins), kOwnerOnly); }

  std::string path_;
  mutable std::mutex mutex_;
};

}  // namespace

std::unique_ptr<port::PinBook> open_pin_book(const std::string& office_folder) {
  return std::make_unique<FilePinBook>((std::filesystem::path{office_folder} / "pins.json").string());
}

}  // namespace loadlight::system
