#include "loadlight/core/transitions.h"

namespace loadlight::core {
namespace {

template <class State, class Move>
struct Transition final {
  State from;
  Move move;
  State to;
};

using P = PackageState;
constexpr Transition<PackageState, PackageMove> kPackageTransitions[] = {
    {P::Labelled, PackageMove::AddToLoad, P::Loaded},
    {P::Loaded, PackageMove::TakeFromLoad, P::Labelled},
    {P::Loaded, PackageMove::Open, P::Opened},
    {P::Labelled, PackageMove::Withdraw, P::Withdrawn},
    {P::Loaded, PackageMove::Withdraw, P::Withdrawn},
    {P::Labelled, PackageMove::Void, P::Void},
    {P::Loaded, PackageMove::Void, P::Void},
};

using L = LoadState;
constexpr Transition<LoadState, LoadMove> kLoadTransitions[] = {
    {L::Reserved, LoadMove::Open, L::Open},
    {L::Open, LoadMove::Start, L::Running},
    {L::Running, LoadMove::Finish, L::Finished},
    {L::Running, LoadMove::Abort, L::Aborted},
    {L::Finished, LoadMove::Release, L::Released},
    {L::Quarantined, LoadMove::Release, L::Released},
    {L::Finished, LoadMove::Quarantine, L::Quarantined},
    {L::Finished, LoadMove::Fail, L::Failed},
    {L::Quarantined, LoadMove::Fail, L::Failed},
    {L::Released, LoadMove::Revoke, L::Revoked},
    {L::Finished, LoadMove::Recall, L::Recalled},
    {L::Quarantined, LoadMove::Recall, L::Recalled},
    {L::Released, LoadMove::Recall, L::Recalled},
    {L::Revoked, LoadMove::Recall, L::Recalled},
};

template <class State, class Move, std::size_t N>
std::optional<State> look_up(const Transition<State, Move> (&table)[N], State from, Move move) {
  for (const auto& row : table) {
    if (row.from == from && row.move == move) return row.to;
  }
  return std::nullopt;
}

}  // namespace

std::optional<PackageState> after(PackageState from, PackageMove move) {
  return look_up(kPackageTransitions, from, move);
}

std::optional<LoadState> after(LoadState from, LoadMove move) {
  return look_up(kLoadTransitions, from, move);
}

}  // namespace loadlight::core
