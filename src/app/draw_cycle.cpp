#include "loadlight/app/draw_cycle.h"

#include "app/load_facts.h"
#include "app/load_moves.h"
#include "loadlight/core/cycle_text.h"
#include "loadlight/report/cycle_plot.h"

namespace loadlight::app {

using core::Failure;
using core::FailureCode;
using core::Result;

Result<std::string> cycle_drawing(const Ports& ports, const report::Words& words,
                                  const core::LoadName& name) {
  const auto unit = ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto load = find_load(**unit, name);
  if (!load) return load.failure();
  if (!load->cycle_log) return Failure{FailureCode::CycleLogMissing, {{"load", name.text()}}, {}};
  const auto log = (**unit).evidence().find_log(*load->cycle_log);
  if (!log) return log.failure();
  const auto facts = facts_of(**unit, *load, ports.clock.now());
  if (!facts) return facts.failure();
  auto curve = *log ? core::parse_curve((**log).curve) : std::nullopt;
  if (!facts->log || !curve)
    return Failure{FailureCode::RecordDamaged, {{"why", "cycle log " + name.text()}}, {}};
  core::CycleFindings findings = *facts->log;
  findings.curve = std::move(*curve);
  const auto texts = report::cycle_plot_texts(words, findings, {{"load", name.text()}});
  return report::cycle_plot_svg(report::lay_out_cycle(findings, core::mechanical_limits(*facts), texts));
}

}  // namespace loadlight::app
