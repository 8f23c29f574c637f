#include "loadlight/app/move_office.h"

#include "loadlight/app/act.h"
#include "loadlight/app/open_office.h"
#include "office_files.h"
#include "verified_copy.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
using port::Standing;
using port::Whereabouts;

class Move final {
 public:
  Move(const World& world, const MoveRequest& request, const std::function<bool(const MoveProgress&)>& goes_on)
      : world_(world), door_(world.group.moving), operator_(request.operator_code), goes_on_(goes_on),
        from_(door_.name_of(request.from)), to_(door_.name_of(request.to)) {}

  Result<MoveReply> run();

 private:
  Result<bool> left_before() const;
  Result<Whereabouts> take_place() const;
  Result<void> copy(MoveStep step);
  Result<void> must_be_whole(const std::string& place, MoveStep step) const;
  Result<void> bring_record();
  Result<void> bring_rest();
  Result<void> bring_files() const;
  Result<void> set(const std::string& place, Standing state, const std::string& other) const {
    return door_.set_whereabouts(place, {state, other});
  }
  bool tell(MoveStep step, std::int64_t done, std::int64_t all) const {
    return !goes_on_ || goes_on_({step, done, all});
  }

  const World& world_;
  const MovingDoor& door_;
  const std::string operator_;
  const std::function<bool(const MoveProgress&)>& goes_on_;
  const std::string from_, to_;
  MoveReply reply_;
};

// That it was moved there is a lead's doing, then.
Result<bool> Move::left_before() const {
  const auto office = open_office(world_, from_);
  if (!office) {
    if (office.failure().code != FailureCode::OfficeMoved) return office.failure();
    const auto where = door_.whereabouts(from_);
    if (!where) return where.failure();
    if (where->place != to_) return office.failure();
    return true;
  }
  const auto act = begin_act((*office)->ports, operator_);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  return false;
}

// How it was before; an office that people work on is nobody's to take.
Result<Whereabouts> Move::take_place() const {
  if (auto made = door_.make_ready(to_); !made) return made.failure();
  auto before = door_.whereabouts(to_);
  if (!before) return before;
  if (before->state == Standing::Arriving && before->place != from_) {
    return Failure{FailureCode::OfficeArriving, {{"path", to_}, {"place", before->place}}, {}};
  }
  if (before->state != Standing::Here) return before;
  const auto empty = door_.is_empty(to_);
  if (!empty) return empty.failure();
  if (!*empty) return Failure{FailureCode::OfficeExists, {{"path", to_}}, {}};
  return before;
}

Result<void> Move::copy(MoveStep step) {
  const auto copied = door_.copy_entries(from_, to_, [&](const CopyProgress& progress) {
    return tell(step, progress.done, progress.all);
  });
  if (!copied) return copied.failure();
  reply_.entries += *copied;
  return {};
}

Result<void> Move::must_be_whole(const std::string& place, MoveStep step) const {
  const auto found = door_.verify(place, [&](const port::VerifyProgress& progress) {
    return tell(step, progress.done, progress.all);
  });
  if (!found) return found.failure();
  if (found->empty()) return {};
  return record_altered(place, *found);
}

// While people work on. What was altered in the old place would be put right in the new one without a word.
Result<void> Move::bring_record() {
  const auto before = take_place();
  if (!before) return before.failure();
  if (auto taken = set(to_, Standing::Arriving, from_); !taken) return taken;
  auto brought = copy(MoveStep::Copying);
  if (brought) brought = must_be_whole(from_, MoveStep::VerifyingOld);
  if (brought || brought.failure().code == FailureCode::Stopped) return brought;
  (void)set(to_, before->state, before->place).ok();
  return brought;
}

// From here on nobody writes in either place.
Result<void> Move::bring_rest() {
  if (auto copied = copy(MoveStep::CopyingRest); !copied) return copied;
  if (auto whole = must_be_whole(to_, MoveStep::VerifyingNew); !whole) return whole;
  const auto same = door_.are_same(from_, to_);
  if (!same) return same.failure();
  if (!*same) return Failure{FailureCode::RecordsDiffer, {{"path", to_}}, {}};
  return bring_files();
}

Result<void> Move::bring_files() const {
  const std::string from = world_.files_of(from_), to = world_.files_of(to_);
  for (const OfficeFile& file : kOfficeFiles) {
    if (file.name == std::string_view{kRecordName}) continue;
    const auto bytes = bytes_of(world_, from + "/" + file.name, file);
    if (!bytes) return bytes.failure();
    if (!*bytes) continue;
    if (auto put = door_.put_file(to + "/" + file.name, **bytes); !put) return put;
  }
  return door_.hand_keys(to_);
}

Result<MoveReply> Move::run() {
  if (from_ == to_) return Failure{FailureCode::OfficeExists, {{"path", to_}}, {}};
  const auto left = left_before();
  if (!left) return left.failure();
  const auto there = *left ? door_.whereabouts(to_) : Result<Whereabouts>{Whereabouts{}};
  if (!there) return there.failure();
  reply_.was_done = *left && there->state == Standing::Here;
  if (reply_.was_done) return reply_;
  if (!*left) {
    if (auto brought = bring_record(); !brought) return brought.failure();
    if (auto closed = set(from_, Standing::Moved, to_); !closed) return closed.failure();
  }
  if (auto rest = bring_rest(); !rest) {
    // One that cannot come to its end leaves the office where it was.
    const FailureCode why = rest.failure().code;
    if (why == FailureCode::RecordAltered || why == FailureCode::RecordsDiffer) (void)set(from_, Standing::Here, {}).ok();
    return rest.failure();
  }
  if (auto arrived = set(to_, Standing::Here, {}); !arrived) return arrived.failure();
  return reply_;
}

}  // namespace

Result<MoveReply> move_office(const World& world, const MoveRequest& request,
                              const std::function<bool(const MoveProgress&)>& goes_on) {
  return Move{world, request, goes_on}.run();
}

}  // namespace loadlight::app
