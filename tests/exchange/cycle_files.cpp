#include "exchange/cycle_files.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <sstream>

namespace loadlight::exchange {

std::string file_text(const std::string& path_in_repository) {
  std::ifstream file{std::string{LOADLIGHT_SOURCE_DIR} + "/" + path_in_repository, std::ios::binary};
  INFO(path_in_repository);
  REQUIRE(file);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

LogMapping mapping_named(const std::string& name) {
  const auto mapping = parse_mapping(name, file_text("templates/mappings/" + name + ".mapping"));
  INFO(name);
  REQUIRE(mapping);
  return *mapping;
}

ReadLog read_log(const LogMapping& mapping, std::string_view text, double programmed_celsius,
                 std::size_t chunk) {
  core::CycleSettings settings;
  settings.programmed_celsius = programmed_celsius;
  settings.nominal_seconds = mapping.nominal_seconds;
  settings.barometric_kpa = mapping.barometric_kpa;
  core::CycleReader cycle{settings};
  CycleLogReader reader{mapping, [&cycle](const core::CycleSample& sample) { REQUIRE(cycle.add(sample)); }};
  for (std::size_t at = 0; at < text.size(); at += chunk) reader.feed(text.substr(at, chunk));
  auto summary = reader.finish();
  return {std::move(summary), cycle.findings()};
}

std::string standing(const std::vector<core::CriterionResult>& results, core::Standing standing) {
  std::string codes;
  for (const core::CriterionResult& result : results) {
    if (result.standing != standing) continue;
    codes += (codes.empty() ? "" : " ") + std::string{result.code};
  }
  return codes;
}

}  // namespace loadlight::exchange
