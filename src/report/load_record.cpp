#include "loadlight/report/load_record.h"

#include <algorithm>
#include <string_view>

#include "report/plot_scale.h"
#include "report/record_evidence.h"

namespace loadlight::report {
namespace {

using core::EventKind;
using core::LoadPurpose;
using core::LoadState;

constexpr std::size_t kPackagesAbreast = 2;

std::string key(std::string_view prefix, std::string_view code) {
  return std::string{prefix} + std::string{code};
}

// Whose name an act carries onto paper as a signature: decisions and what takes them back.
bool is_signed(EventKind kind) {
  return kind == EventKind::LoadReleased || kind == EventKind::LoadQuarantined ||
         kind == EventKind::LoadFailed || kind == EventKind::ReleaseRevoked ||
         kind == EventKind::LoadRecalled || kind == EventKind::LoadAborted;
}

// The act that brought a load where it stands; none while nothing was decided.
std::optional<EventKind> deciding_act(LoadState state) {
  switch (state) {
    case LoadState::Quarantined:
      return EventKind::LoadQuarantined;
    case LoadState::Released:
      return EventKind::LoadReleased;
    case LoadState::Failed:
      return EventKind::LoadFailed;
    case LoadState::Aborted:
      return EventKind::LoadAborted;
    case LoadState::Revoked:
      return EventKind::ReleaseRevoked;
    case LoadState::Recalled:
      return EventKind::LoadRecalled;
    case LoadState::Reserved:
    case LoadState::Open:
    case LoadState::Running:
    case LoadState::Finished:
      return std::nullopt;
  }
  return std::nullopt;
}

bool was_aboard(const RecordPackage& each) {
  return each.package.state != core::PackageState::Labelled && each.package.state != core::PackageState::Void;
}

class RecordWriter final {
 public:
  RecordWriter(const LoadRecordFacts& facts, const RecordNames& names, const Words& words)
      : facts_(facts), names_(names), words_(words) {}

  Document write() {
    core::Details gaps{{"load", facts_.load.name.text()}, {"time", names_.local_time(facts_.printed_at)}};
    if (!facts_.office.empty()) gaps.emplace_back("office", facts_.office);
    document_.title = words_.text("record.title", gaps);
    document_.subtitles = {words_.text("record.subtitle", gaps)};
    document_.footer = words_.text("record.footer", gaps);
    state_decision();
    state_run();
    add_mechanical(facts_, names_, words_, document_.blocks);
    add_chemical(facts_, names_, words_, document_.blocks);
    add_biological(facts_, names_, words_, document_.blocks);
    give_reasons();
    sign();
    list_packages();
    add(Caution{caution_text()});
    return std::move(document_);
  }

 private:
  template <class B>
  void add(B block) {
    document_.blocks.emplace_back(std::move(block));
  }
  void heading(const char* name) { add(Heading{words_.text(key("record.heading.", name))}); }
  std::string time(const std::optional<core::Instant>& at) const { return at ? names_.local_time(*at) : ""; }

  // Null if the ledger has none about this load: a recall may be an incident's.
  const RecordAct* last_act(EventKind kind) const {
    const auto found = std::find_if(facts_.acts.rbegin(), facts_.acts.rend(),
                                    [&](const RecordAct& act) { return act.kind == kind; });
    return found == facts_.acts.rend() ? nullptr : &*found;
  }

  void state_decision() {
    const auto kind = deciding_act(facts_.load.state);
    const RecordAct* act = kind ? last_act(*kind) : nullptr;
    std::string text = act ? act_text(*act) : kind ? "" : words_.text("record.undecided");
    if (!facts_.incidents.empty())
      text += (text.empty() ? "" : " ") + words_.text("record.incidents", {{"numbers", incidents()}});
    add(Statement{decision_text(facts_.load, words_), std::move(text)});
  }

  std::string act_text(const RecordAct& act) const {
    core::Details details{{"who", person_text(act.who, names_)}, {"time", names_.local_time(act.at)}};
    if (!act.why.empty()) details.emplace_back("reason", act.why);
    return words_.text("record.decided", details);
  }

  std::string incidents() const {
    std::string numbers;
    for (int number : facts_.incidents) numbers += (numbers.empty() ? "" : ", ") + std::to_string(number);
    return numbers;
  }

  void pair(const char* name, std::string value) {
    if (!value.empty()) values_.rows.push_back({words_.text(key("record.key.", name)), std::move(value)});
  }

  std::string done_by(EventKind kind) const {
    for (const RecordAct& act : facts_.acts) {
      if (act.kind == kind) return person_text(act.who, names_);
    }
    return "";
  }
  std::string done(const std::optional<core::Instant>& at, EventKind kind) const {
    if (!at) return words_.text("record.not-yet");
    const std::string who = done_by(kind);
    return who.empty() ? time(at) : words_.text("record.time-by", {{"time", time(at)}, {"who", who}});
  }

  void state_run() {
    const core::Load& load = facts_.load;
    pair("sterilizer", facts_.sterilizer);
    pair("date", load.process_date ? load.process_date->iso() : words_.text("record.not-yet"));
    pair("purpose", words_.text(key("record.purpose.", core::to_text(load.purpose))));
    pair("counter", load.machine_counter ? std::to_string(*load.machine_counter) : "");
    pair("started", done(load.started_at, EventKind::LoadStarted));
    const bool aborted = load.state == LoadState::Aborted;
    pair("ended", done(load.finished_at, aborted ? EventKind::LoadAborted : EventKind::LoadFinished));
    pair("program", program_text());
    pair("source", facts_.program ? facts_.program->source : "");
    pair("profile", facts_.decided_under.empty() ? facts_.profile : facts_.decided_under);
    pair("contents", contents_text());
    pair("aborted", load.abort_reason);
    pair("retest", load.retest_of ? std::to_string(*load.retest_of) : "");
    add(std::move(values_));
  }

  std::string program_text() const {
    if (!facts_.program) return facts_.load.program;
    const core::Program& program = *facts_.program;
    core::Details details{{"program", program.code},
                          {"celsius", fixed(program.celsius, 1)},
                          {"minutes", fixed(program.exposure_minutes, 1)}};
    if (program.drying_minutes > 0) details.emplace_back("drying", fixed(program.drying_minutes, 0));
    return words_.text("record.program", details);
  }

  std::string contents_text() const {
    const core::Details count{
        {"count", std::to_string(std::count_if(facts_.packages.begin(), facts_.packages.end(), was_aboard))}};
    std::string text = words_.text("record.package-count", count);
    for (const core::LooseItems& items : facts_.loose) {
      text += ", " + words_.text("record.loose",
                                 {{"count", std::to_string(items.count)}, {"contents", items.contents}});
    }
    if (facts_.load.implant_aboard) text += ", " + words_.text("record.implant");
    return text;
  }

  void give_reasons() {
    heading("decision");
    for (core::Reason reason : facts_.reasons) {
      add(Paragraph{"– " + words_.text(key("reason.", core::to_text(reason)) + ".text"), false});
    }
    if (facts_.reasons.empty()) {
      const bool released = facts_.load.state == LoadState::Released;
      add(Paragraph{words_.text(released ? "record.no-reason" : "record.no-reason-known"), false});
    }
    for (core::Note note : facts_.notes) {
      add(Paragraph{"– " + words_.text(key("note.", core::to_text(note)) + ".text"), false});
    }
    const bool changed = !facts_.decided_under.empty() && facts_.decided_under != facts_.profile;
    if (changed) add(Paragraph{words_.text("record.profile-now", {{"profile", facts_.profile}}), true});
  }

  void sign() {
    for (const RecordAct& act : facts_.acts) {
      if (!is_signed(act.kind)) continue;
      const bool emergency = act.kind == EventKind::LoadReleased && !facts_.load.emergency_reason.empty();
      add(Signature{person_text(act.who, names_), names_.local_time(act.at),
                    emergency
                        ? words_.text("record.meaning.emergency", {{"reason", facts_.load.emergency_reason}})
                        : words_.text(key("record.meaning.", core::to_text(act.kind)))});
      if (emergency) {
        add(Signature{person_text(facts_.load.emergency_second, names_), names_.local_time(act.at),
                      words_.text("record.meaning.second")});
      }
    }
  }

  std::string caution_text() const {
    std::string text = words_.text("record.caution");
    if (!facts_.retention_months) return text;
    return text + " " + words_.text("record.keep", {{"months", std::to_string(*facts_.retention_months)}});
  }

  std::string state_text(const core::Package& package) const {
    if (package.recalled) return words_.text("record.package-state.recalled");
    return words_.text(key("record.package-state.", core::to_text(package.state)));
  }

  void list_packages() {
    heading("packages");
    if (facts_.packages.empty()) {
      add(Paragraph{words_.text("record.no-packages"), false});
      return;
    }
    Table table = table_of(words_, {{"package", 22.5}, {"contents", 32.5}, {"use-by", 16}, {"state", 14}});
    for (const RecordPackage& each : facts_.packages) {
      table.rows.push_back({each.package.id.grouped(), each.contents,
                            each.package.use_by ? each.package.use_by->iso() : "", state_text(each.package)});
    }
    add(set_abreast(table, facts_.packages.size() > 1 ? kPackagesAbreast : 1));
  }

  const LoadRecordFacts& facts_;
  const RecordNames& names_;
  const Words& words_;
  KeyValues values_;
  Document document_;
};

// Of a test, released says that it passed.
std::string_view state_code(const core::Load& load) {
  const bool test = load.purpose == LoadPurpose::BowieDick || load.purpose == LoadPurpose::Leak;
  if (test && load.state == LoadState::Released) return "test-passed";
  if (test && load.state == LoadState::Failed) return "test-failed";
  if (load.purpose == LoadPurpose::Retest && load.state == LoadState::Released) return "retest-accepted";
  return core::to_text(load.state);
}

}  // namespace

std::string decision_text(const core::Load& load, const Words& words) {
  return words.text(key("record.state.", state_code(load)));
}

std::string person_text(const std::string& code, const RecordNames& names) {
  const auto name = names.people.find(code);
  return name == names.people.end() || name->second.empty() ? code : name->second + " (" + code + ")";
}

Document load_record(const LoadRecordFacts& facts, const RecordNames& names, const Words& words) {
  return RecordWriter{facts, names, words}.write();
}

}  // namespace loadlight::report
