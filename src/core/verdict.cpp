#include "loadlight/core/verdict.h"

#include <algorithm>

namespace loadlight::core {
namespace {

void sort_worst_first(std::vector<Reason>& reasons) {
  std::sort(reasons.begin(), reasons.end());
  reasons.erase(std::unique(reasons.begin(), reasons.end()), reasons.end());
}

}  // namespace

Verdict Verdict::against(std::vector<Reason> reasons) {
  Verdict verdict;
  if (reasons.empty()) return verdict;
  sort_worst_first(reasons);
  verdict.reasons_ = std::move(reasons);
  for (Reason reason : verdict.reasons_) verdict.outcome_ = std::max(verdict.outcome_, weight_of(reason));
  return verdict;
}

bool Verdict::has(Reason reason) const {
  return std::find(reasons_.begin(), reasons_.end(), reason) != reasons_.end();
}

Verdict Verdict::with(Reason reason) const {
  std::vector<Reason> reasons = reasons_;
  reasons.push_back(reason);
  Verdict verdict = against(std::move(reasons));
  verdict.notes_ = notes_;
  return verdict;
}

Verdict Verdict::with(Note note) const {
  Verdict verdict = *this;
  if (std::find(notes_.begin(), notes_.end(), note) == notes_.end()) verdict.notes_.push_back(note);
  return verdict;
}

void Judge::hear(Reason reason, Finding finding) {
  heard_ = true;
  switch (finding) {
    case Finding::No:
      return;
    case Finding::Yes:
      reasons_.push_back(reason);
      return;
    case Finding::Missing:
      reasons_.push_back(when_missing_);
      return;
  }
  reasons_.push_back(when_missing_);
}

Verdict Judge::verdict() const {
  if (!heard_ || !reasons_.empty()) return Verdict::against(reasons_);
  Verdict clear;
  clear.outcome_ = Outcome::Clear;
  clear.reasons_.clear();
  return clear;
}

}  // namespace loadlight::core
