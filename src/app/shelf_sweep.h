// The sweep of an audit: frame by frame, which labels are in view, where, and what speaks against them.
#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "app/audit_ledger.h"
#include "app/lost_places.h"
#include "app/seen_labels.h"
#include "app/sweep_pictures.h"

namespace loadlight::app {

// What one frame showed, whichever way it was read.
struct FrameSight final {
  std::vector<port::SymbolSighting> symbols;  // top to bottom and left to right
  core::SweepMeasures measures;
  double shift_x = 0;  // since the frame before, pixels
  double shift_y = 0;
};

class ShelfSweep final {
 public:
  // How it came to an end.
  enum class End { Finished, Interrupted, Failed };

  ShelfSweep(const Ports& ports, const AuditEyes& eyes, const AuditRequest& request, AuditLedger& ledger);

  // Looks at frames until there are no more, somebody stops it, or the source fails: then `trouble` says why.
  End run(port::FrameSource& frames);

  SeenLabels& seen() { return seen_; }
  LostPlaces& lost() { return lost_; }
  SweepPictures& pictures() { return pictures_; }
  const std::optional<core::Failure>& trouble() const { return trouble_; }
  std::vector<std::string> places() const { return {places_.begin(), places_.end()}; }
  const std::string& place() const { return place_; }
  int other_symbols() const { return static_cast<int>(others_.size()); }
  int last_frame() const { return last_frame_; }
  double seconds() const { return seconds_; }

 private:
  End look_at_all(port::FrameSource& frames, port::Frame& last);
  void take_rest(const port::Frame& last);
  FrameSight look(const port::Frame& frame);
  FrameSight sight_of(port::SweepView view, const port::Frame& frame);
  FrameSight look_apart(const port::Frame& frame);
  void take(const port::Frame& frame, const FrameSight& sight);
  SeenLabel* place_symbol(const port::Frame& frame, const port::SymbolSighting& symbol);
  bool pass_tag(const core::ShelfTagText& tag);
  void judge_earlier();
  void judge(const std::vector<SeenLabel*>& labels, const std::vector<CheckItem>& items,
             const std::vector<SeenLabel*>& news);
  void note_old_label(const std::vector<SeenLabel*>& in_view, std::size_t which, std::optional<bool> found);
  AuditStep tell(const port::Frame& frame, const FrameSight& sight, int frames);
  std::optional<double> usable_width(int frame_width);

  const Ports& ports_;
  const AuditEyes& eyes_;
  const AuditRequest& request_;
  AuditLedger& ledger_;
  CheckRequest templates_;  // its find_template reads each template once
  std::unique_ptr<port::Sweep> sweep_;
  SeenLabels seen_;
  LostPlaces lost_;
  SweepPictures pictures_;
  std::optional<core::Failure> trouble_;
  std::set<std::string> places_;
  std::string place_;
  bool place_is_new_ = false;
  std::set<std::size_t> others_;   // hashes of symbols that are no label of a package
  std::set<std::string> in_view_;  // texts, in the frame before
  std::vector<std::pair<const SeenLabel*, port::Corners>> outlined_;  // packages in the newest frame
  std::optional<double> module_;   // millimetres, once it is known
  core::Instant begun_at_{};
  int first_frame_ = 0;
  int last_frame_ = 0;
  double seconds_ = 0;
};

}  // namespace loadlight::app
