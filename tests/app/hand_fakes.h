// The world around an office, turned by hand.
#pragma once

#include <map>
#include <optional>
#include <random>
#include <string>
#include <variant>
#include <vector>

#include "loadlight/core/payload.h"
#include "loadlight/label/press.h"
#include "loadlight/port/clock.h"
#include "loadlight/port/files.h"
#include "loadlight/port/keyring.h"
#include "loadlight/port/zone.h"

namespace loadlight::tests {

class HandClock final : public port::Clock {
 public:
  explicit HandClock(core::Instant start) : now_(start) {}
  core::Instant now() const override { return now_; }
  void turn(std::chrono::minutes by) { now_ += by; }
  void turn_days(int days) { now_ += std::chrono::hours{24 * days}; }

 private:
  core::Instant now_;
};

// Every day begins at midnight UTC.
class UtcZone final : public port::Zone {
 public:
  core::CivilDate local_date(core::Instant t) const override {
    const std::chrono::year_month_day day{std::chrono::floor<std::chrono::days>(t)};
    return *core::CivilDate::from(static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                                  static_cast<unsigned>(day.day()));
  }
  std::string local_text(core::Instant t) const override { return core::to_text(t); }
  std::string name() const override { return "UTC"; }
};

// Authenticators by an ordinary hash: telling apart what differs is all that is asked of it. Ids come from
// a seeded row of numbers.
class PlainKeyring final : public port::Keyring {
 public:
  explicit PlainKeyring(std::string key) : keys_{std::move(key)} {}

  void change_key(std::string key) { keys_.push_back(std::move(key)); }
  std::string mac(std::string_view signed_part) const override { return mac_by(keys_.back(), signed_part); }
  bool verifies(std::string_view signed_part, std::string_view authenticator) const override {
    for (const std::string& key : keys_) {
      if (mac_by(key, signed_part) == authenticator) return true;
    }
    return false;
  }
  int current_key() const override { return static_cast<int>(keys_.size()); }
  void fill_random(std::span<std::uint8_t> out) const override {
    for (std::uint8_t& byte : out) byte = static_cast<std::uint8_t>(draw_());
  }

 private:
  static std::string mac_by(const std::string& key, std::string_view text) {
    static constexpr std::string_view kDigits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    std::mt19937_64 mix{std::hash<std::string>{}(key + "/" + std::string{text})};
    std::string digits;
    while (digits.size() < core::kAuthenticatorLength) digits.push_back(kDigits[mix() % 32]);
    return digits;
  }
  std::vector<std::string> keys_;
  mutable std::mt19937 draw_{7};
};

// Files in memory. While `full` is set, nothing can be written.
class HandFiles final : public port::Files {
 public:
  core::Result<std::string> read(const std::string& path, std::size_t) const override {
    const auto file = files_.find(path);
    if (file == files_.end()) return core::Failure{core::FailureCode::FileUnreadable, {{"path", path}}, {}};
    return file->second;
  }
  // Three bytes a chunk, so that every line is cut somewhere.
  core::Result<void> each_chunk(const std::string& path,
                                const std::function<bool(const Chunk&)>& take) const override {
    const auto file = read(path, 0);
    if (!file) return file.failure();
    for (std::size_t at = 0; at < file->size(); at += 3) {
      if (!take({std::string_view{*file}.substr(at, 3), at, file->size()})) return {};
    }
    return {};
  }
  core::Result<void> write(const std::string& path, std::string_view bytes) const override {
    if (full) return core::Failure{core::FailureCode::DiskFull, {{"path", path}}, {}};
    files_[path] = bytes;
    return {};
  }
  void take_back(const std::string& path) const override { files_.erase(path); }
  bool has(const std::string& path) const { return files_.count(path) == 1; }
  bool full = false;

 private:
  mutable std::map<std::string, std::string> files_;
};

// "PDFs" that list the texts and symbols of their pages. While `jammed` is set, nothing is printed.
class HandPress final : public label::Press {
 public:
  core::Result<std::string> print(const std::vector<label::Page>& pages, core::Instant made) const override {
    if (jammed) return core::Failure{core::FailureCode::PartUnavailable, {{"part", "press"}}, {}};
    std::string text = "made " + core::to_text(made) + "\n";
    for (const label::Page& page : pages) {
      text += "page\n";
      for (const label::Drawn& drawn : page.items) text += line_of(drawn);
    }
    return text;
  }
  bool jammed = false;

 private:
  static std::string line_of(const label::Drawn& drawn) {
    if (const auto* text = std::get_if<label::DrawnText>(&drawn)) {
      return std::to_string(text->x) + " " + std::to_string(text->baseline) + " " + text->text + "\n";
    }
    if (const auto* symbol = std::get_if<label::DrawnSymbol>(&drawn)) {
      return "symbol " + std::to_string(symbol->x_dots) + " " + std::to_string(symbol->y_dots) + "\n";
    }
    return "stroke\n";
  }
};

}  // namespace loadlight::tests
