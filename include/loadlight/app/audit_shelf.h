// Use case: sweeps a camera along a shelf and holds what it sees against the record.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "loadlight/app/check_packages.h"
#include "loadlight/app/ports.h"
#include "loadlight/core/audit.h"
#include "loadlight/core/sweep_guidance.h"
#include "loadlight/port/frame_source.h"
#include "loadlight/port/picture.h"
#include "loadlight/port/symbol_reader.h"

namespace loadlight::app {

struct AuditedPackage final {
  CheckReply reply;  // the verdict with all its reasons; never Clear for one that was matched
  core::AuditStatus status = core::AuditStatus::Unexpected;
  core::SeenHow how = core::SeenHow::Read;
  int sightings = 0;    // frames it was seen in
  int first_frame = 0;  // Frame::number
  std::string first_file;
  port::Corners corners{};  // in that frame
  std::string seen_at;      // location code: of the audit, or of the shelf tag that came before it
  std::optional<std::string> expected_at;
};

// Expected at a location that was swept, and not seen. Stacked pouches hide labels: only a person may call
// one not found.
struct NotSeenPackage final {
  core::Package package;
  std::string contents_name;
};

struct UnreadableSymbol final {
  int frame = 0;
  std::string file;
  port::Corners corners{};
  std::string jpeg;  // the place and its surroundings; empty if it could not be made
  int width = 0;     // pixels of the JPEG
  int height = 0;
};

// A piece of the sweep for the report, with the labels seen in it.
struct SweepPicture final {
  int frame = 0;
  std::string file;
  std::string jpeg;
  int width = 0;  // pixels of the JPEG
  int height = 0;
  struct Mark final {
    port::Corners corners{};  // pixels of the JPEG
    std::size_t package = 0;  // index in AuditReply::packages
  };
  std::vector<Mark> marks;
};

struct AuditReply final {
  std::string audit;  // its name: the location and a number of its own, "CAB2-7"
  std::string location;
  std::string operator_code;
  std::vector<std::string> swept;  // location codes, sorted: that one and those whose shelf tags were seen
  core::Instant begun_at{};
  core::Instant ended_at{};
  bool interrupted = false;              // stopped, cut off or unplugged: what was seen so far stands
  std::optional<core::Failure> trouble;  // why, where it was not a person's wish
  std::vector<AuditedPackage> packages;  // as first seen
  std::vector<NotSeenPackage> not_seen;  // by location, oldest first
  std::vector<UnreadableSymbol> unreadable;
  int unreadable_beyond = 0;  // more of them than are kept
  int other_symbols = 0;  // read, and no label of a package: a maker's code, a badge, a stranger's shelf tag
  std::vector<SweepPicture> pictures;
  int frames = 0;      // number of the last frame that was looked at
  double seconds = 0;  // of the source
};

// A package's label where it lies in the newest frame.
struct LabelInView final {
  port::Corners corners{};
  core::Outcome outcome = core::Outcome::Hold;  // as the audit has it so far
  core::AuditStatus status = core::AuditStatus::Unexpected;
};

struct AuditProgress final {
  int frame = 0;
  int frames = 0;           // 0: not known
  double seconds_left = 0;  // wall time; 0: not known
  int packages = 0;
  std::string location;  // code: of the audit, or of the shelf tag that was passed last
  std::vector<LabelInView> in_view;
  std::vector<core::SweepHint> hints;
  std::optional<double> usable_width;  // millimetres, with TooFar
};

enum class AuditStep {
  GoOn,
  Finish,     // the sweep is over: whoever swept says so
  Interrupt,  // the rest is for later: the audit stays open to be resumed
};

struct AuditRequest final {
  std::string location;  // code
  std::string operator_code;
  std::string source;   // what is swept: a file's name, a folder's, or a camera's number
  bool resume = false;  // goes on with the newest audit of this location and source that has not ended
  std::function<core::Result<label::LabelTemplate>(std::string_view name)> find_template;
  std::function<void(const std::string& audit)> begun;  // once it stands in the ledger. May be empty.
  std::function<AuditStep(const AuditProgress&)> tell;  // after each frame. May be empty.
  std::function<void(const AuditedPackage&)> saw;       // a package for the first time, judged. May be empty.
};

// What the audit looks with.
struct AuditEyes final {
  const port::SymbolReader& reader;
  const port::PictureSource& pictures;
  const port::SymbolEncoder& encoder;  // redraws what the record expects
};

// Fails only when nothing was begun: as begin_act does, CodeUnknown or CodeRetired for the location,
// AuditUnknown (detail: location) where there is none to resume, or the store's. What comes later is in the
// reply.
//
// What was seen is written frame by frame, so an audit that is cut off keeps it; a package whose sighting
// cannot be written holds. A package counts once for each text its labels carry, so that a label of another
// office shows beside the one whose id it borrows; a photograph of a label says what the label says and
// cannot be told from it. Only a symbol that was read in this audit can be Clear. Nothing is moved, found or
// given up by an audit: that is a person's to say.
core::Result<AuditReply> audit_shelf(const Ports& ports, const AuditEyes& eyes, port::FrameSource& frames,
                                     const AuditRequest& request);

}  // namespace loadlight::app
