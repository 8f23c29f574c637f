#include "queue_text.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "whole_number.h"

namespace loadlight::system {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kIdLength = 32;
constexpr std::int64_t kLatest = std::int64_t{1} << 53;  // milliseconds, either way

bool is_id(const std::string& text) {
  return text.size() == kIdLength && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

std::optional<port::QueuedAct> act_of(const Json& line) {
  const auto kind = core::parse<core::EventKind>(line.at("kind").get<std::string>());
  if (!kind) return std::nullopt;
  const auto at = whole_number(line.at("at"), -kLatest, kLatest);
  if (!at) return std::nullopt;
  port::QueuedAct act{line.at("id"), *kind, core::instant_from(*at), line.at("operator"), line.at("subject"), {}};
  for (const Json& detail : line.at("details")) act.details.emplace_back(detail.at(0), detail.at(1));
  if (!is_id(act.id)) return std::nullopt;
  return act;
}

}  // namespace

std::string print_queued(const port::QueuedAct& act) {
  Json details = Json::array();
  for (const auto& [name, value] : act.details) details.push_back({name, value});
  const Json line{{"id", act.id},
                  {"kind", core::to_text(act.kind)},
                  {"at", core::to_milliseconds(act.at)},
                  {"operator", act.operator_code},
                  {"subject", act.subject},
                  {"details", details}};
  return line.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::optional<port::QueuedAct> parse_queued(std::string_view line) {
  const auto parsed = Json::parse(line, nullptr, false);
  if (!parsed.is_object()) return std::nullopt;
  try {
    return act_of(parsed);
  } catch (const Json::exception&) {
    return std::nullopt;
  }
}

}  // namespace loadlight::system
