#include "checkpoint_text.h"

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>

#include "station_key.h"
#include "whole_number.h"

namespace loadlight::system {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kLongestLine = 8 << 10;  // bytes
constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();

void add_field(std::string& bytes, std::string_view field) {
  bytes.append(std::to_string(field.size())).append(":").append(field).append("\n");
}

bool is_hex(std::string_view text, std::size_t digits) {
  return text.size() == digits && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

bool is_whole(const core::Checkpoint& point) {
  return is_hex(point.hash, 64) && is_hex(point.office, 64) && is_hex(point.key, 64) && is_hex(point.signature, 128);
}

Json json_of(const core::Checkpoint& point) {
  Json line{{"sequence", point.sequence},
            {"hash", point.hash},
            {"at", core::to_milliseconds(point.at)},
            {"office", point.office}};
  if (point.restored_after) line["restored_after"] = *point.restored_after;
  line["key"] = point.key;
  line["signature"] = point.signature;
  return line;
}

// A path of any bytes; what is no UTF-8 in it is replaced.
std::string dumped(const Json& line) {
  return line.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// Throws std::exception on any other shape.
StationLine read_line(const Json& line) {
  StationLine read;
  core::Checkpoint& point = read.checkpoint;
  point.sequence = whole_number(line.at("sequence"), 1, kMost).value();
  point.hash = line.at("hash").get<std::string>();
  point.at = core::instant_from(whole_number(line.at("at"), -kMost, kMost).value());
  point.office = line.at("office").get<std::string>();
  if (line.contains("restored_after")) point.restored_after = whole_number(line.at("restored_after"), 0, kMost).value();
  point.key = line.at("key").get<std::string>();
  point.signature = line.at("signature").get<std::string>();
  read.folder = line.value("folder", std::string{});
  read.begun = line.value("begun", false);
  return read;
}

}  // namespace

std::string signed_bytes(const core::Checkpoint& point) {
  std::string bytes = "loadlight checkpoint 1\n";
  add_field(bytes, std::to_string(point.sequence));
  add_field(bytes, point.hash);
  add_field(bytes, std::to_string(core::to_milliseconds(point.at)));
  add_field(bytes, point.office);
  add_field(bytes, point.restored_after ? std::to_string(*point.restored_after) : "");
  add_field(bytes, point.key);
  return bytes;
}

std::string print_line(const core::Checkpoint& checkpoint) {
  return dumped(json_of(checkpoint));
}

std::string print_line(const StationLine& line) {
  Json json = json_of(line.checkpoint);
  json["folder"] = line.folder;
  if (line.begun) json["begun"] = true;
  return dumped(json);
}

std::optional<StationLine> parse_line(std::string_view text) {
  if (text.size() > kLongestLine) return std::nullopt;
  try {
    StationLine line = read_line(Json::parse(text));
    return is_whole(line.checkpoint) ? std::optional{std::move(line)} : std::nullopt;
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

port::CheckpointList parse_list(std::string path, std::string_view text, std::string_view own_key) {
  port::CheckpointList list{std::move(path), true, {}, 0};
  for (int number = 1; !text.empty(); ++number) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (line.find_first_not_of(" \t\r") == std::string_view::npos) continue;
    const auto read = parse_line(line);
    if (!read) {
      ++list.unreadable;
      continue;
    }
    const bool genuine = is_genuine(read->checkpoint);
    list.kept.push_back({number, read->checkpoint, genuine, genuine && read->checkpoint.key == own_key});
  }
  return list;
}

}  // namespace loadlight::system
