#include "group/station.h"

#include <cstdlib>
#include <iostream>
#include <sstream>

#include "loadlight/label/template.h"
#include "loadlight/store/group_record.h"

namespace loadlight::tests {
namespace {

core::Result<label::LabelTemplate> find_template(std::string_view name) {
  return label::parse_template(name, file_text(LOADLIGHT_SOURCE_DIR "/templates/labels/" + std::string{name} + ".label"));
}

const report::Words& english() {
  static const report::Words words =
      need("read the words", report::Words::parse(file_text(LOADLIGHT_SOURCE_DIR "/templates/words/en.json")));
  return words;
}

std::string in_journal(const port::Committed& done) {
  return std::to_string(done.last) + ":" + std::to_string(done.kinds.size()) + ":" + done.hash;
}

}  // namespace

std::string file_text(const std::string& path) {
  const std::ifstream file{path};
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

void give_up(const std::string& doing, const core::Failure& failure) {
  std::cerr << doing << ": " << core::to_text(failure.code);
  for (const auto& [name, value] : failure.details) std::cerr << " " << name << "=" << value;
  std::cerr << std::endl;
  std::_Exit(1);
}

core::Instant WorkdayClock::now() const {
  using namespace std::chrono;
  return sys_days{year{2026} / November / 25} + hours{12} +
         duration_cast<core::Instant::duration>(system_clock::now() - begun_);
}

Station::Station(StationOptions options) : clock_(options.begun), keyring_(options.seed), dice_(options.seed) {
  if (!options.journal.empty()) journal_.open(options.journal, std::ios::app);
  store::GroupRecordOptions record{.station = options.name};
  record.committed = [this](const port::Committed& done) { commits_.push_back(in_journal(done)); };
  store_ = need("open the office", store::open_group_record(options.address, std::move(record)));
}

app::PrintShop Station::shop() const {
  const label::Words words = [](std::string_view key, const core::Details& gaps) -> std::optional<std::string> {
    if (!english().has(key)) return std::nullopt;
    return english().text(key, gaps);
  };
  return {encoder_, gauge_, press_, files_, words, find_template};
}

void Station::note(int number, std::string_view operation, const std::string& subject, std::string_view outcome,
                   int repeated) {
  const auto now = std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::system_clock::now().time_since_epoch());
  std::ostringstream line;
  line << number << '\t' << operation << '\t' << subject << '\t' << outcome << '\t' << repeated << '\t' << now.count() << '\t';
  for (std::size_t i = 0; i < commits_.size(); ++i) line << (i ? "," : "") << commits_[i];
  commits_.clear();
  journal_ << line.str() << std::endl;
}

}  // namespace loadlight::tests
