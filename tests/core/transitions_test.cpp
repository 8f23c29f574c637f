#include "loadlight/core/transitions.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <utility>

namespace loadlight::core {
namespace {

template <class State, class Move>
using Moves = std::map<std::pair<State, Move>, State>;

// Written from what the design says of packages: labelled, put into a load and taken out of it before the
// start, opened from a load, withdrawn or voided until then; what is void, opened or withdrawn stays so.
const Moves<PackageState, PackageMove> kPackageMoves = {
    {{PackageState::Labelled, PackageMove::AddToLoad}, PackageState::Loaded},
    {{PackageState::Labelled, PackageMove::Withdraw}, PackageState::Withdrawn},
    {{PackageState::Labelled, PackageMove::Void}, PackageState::Void},
    {{PackageState::Loaded, PackageMove::TakeFromLoad}, PackageState::Labelled},
    {{PackageState::Loaded, PackageMove::Open}, PackageState::Opened},
    {{PackageState::Loaded, PackageMove::Withdraw}, PackageState::Withdrawn},
    {{PackageState::Loaded, PackageMove::Void}, PackageState::Void}};

// Reserved with labels, opened, started, ended, decided once; a release can be taken back, and what was
// not failed or aborted can be called back.
const Moves<LoadState, LoadMove> kLoadMoves = {
    {{LoadState::Reserved, LoadMove::Open}, LoadState::Open},
    {{LoadState::Open, LoadMove::Start}, LoadState::Running},
    {{LoadState::Running, LoadMove::Finish}, LoadState::Finished},
    {{LoadState::Running, LoadMove::Abort}, LoadState::Aborted},
    {{LoadState::Finished, LoadMove::Release}, LoadState::Released},
    {{LoadState::Finished, LoadMove::Quarantine}, LoadState::Quarantined},
    {{LoadState::Finished, LoadMove::Fail}, LoadState::Failed},
    {{LoadState::Finished, LoadMove::Recall}, LoadState::Recalled},
    {{LoadState::Quarantined, LoadMove::Release}, LoadState::Released},
    {{LoadState::Quarantined, LoadMove::Fail}, LoadState::Failed},
    {{LoadState::Quarantined, LoadMove::Recall}, LoadState::Recalled},
    {{LoadState::Released, LoadMove::Revoke}, LoadState::Revoked},
    {{LoadState::Released, LoadMove::Recall}, LoadState::Recalled},
    {{LoadState::Revoked, LoadMove::Recall}, LoadState::Recalled}};

template <class State, class Move>
void require_exactly(const Moves<State, Move>& allowed, int move_count) {
  std::size_t met = 0;
  for (const auto& term : Vocabulary<State>::kTerms) {
    for (int move = 0; move < move_count; ++move) {
      const auto row = allowed.find({term.value, static_cast<Move>(move)});
      const auto state = after(term.value, static_cast<Move>(move));
      CAPTURE(term.text, move);
      REQUIRE(state.has_value() == (row != allowed.end()));
      if (state) REQUIRE(*state == row->second);
      met += state.has_value();
    }
  }
  REQUIRE(met == allowed.size());
}

}  // namespace

TEST_CASE("A package moves as the list says and every other move is refused") {
  require_exactly(kPackageMoves, static_cast<int>(PackageMove::Void) + 1);
}

TEST_CASE("A load moves as the list says and every other move is refused") {
  require_exactly(kLoadMoves, static_cast<int>(LoadMove::Recall) + 1);
}

TEST_CASE("Nothing leaves void, opened, withdrawn, failed, aborted or recalled") {
  for (PackageState state : {PackageState::Void, PackageState::Opened, PackageState::Withdrawn}) {
    for (int move = 0; move <= static_cast<int>(PackageMove::Void); ++move) {
      REQUIRE_FALSE(after(state, static_cast<PackageMove>(move)));
    }
  }
  for (LoadState state : {LoadState::Failed, LoadState::Aborted, LoadState::Recalled}) {
    for (int move = 0; move <= static_cast<int>(LoadMove::Recall); ++move) {
      REQUIRE_FALSE(after(state, static_cast<LoadMove>(move)));
    }
  }
}

TEST_CASE("A load is released only from the end of its run or from quarantine") {
  for (const auto& term : Vocabulary<LoadState>::kTerms) {
    const bool may = term.value == LoadState::Finished || term.value == LoadState::Quarantined;
    CAPTURE(term.text);
    REQUIRE(after(term.value, LoadMove::Release).has_value() == may);
  }
}

TEST_CASE("Every state but the first of its kind can be reached") {
  for (const auto& term : Vocabulary<LoadState>::kTerms) {
    const bool reached = std::any_of(kLoadMoves.begin(), kLoadMoves.end(),
                                     [&](const auto& row) { return row.second == term.value; });
    REQUIRE(reached == (term.value != LoadState::Reserved));
  }
}

}  // namespace loadlight::core
