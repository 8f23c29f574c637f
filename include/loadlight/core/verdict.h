// Verdict: the answer to "may this be opened?" or "may this load be released?".
//
// Fail-safe by construction: a Verdict made by default says Hold; Clear exists only where a judge found
// every fact present and no reason. Only the two judges (package_rules.h, release_rules.h) can come to it.
#pragma once

#include <vector>

#include "loadlight/core/reasons.h"

namespace loadlight::core {

class Verdict final {
 public:
  // A verdict that carries these reasons; with none of them it holds for want of knowledge
  // (RecordDamaged), so that no caller can make Clear out of nothing.
  static Verdict against(std::vector<Reason> reasons);

  Outcome outcome() const { return outcome_; }
  const std::vector<Reason>& reasons() const { return reasons_; }  // worst first, each once
  const std::vector<Note>& notes() const { return notes_; }
  bool has(Reason reason) const;

  // The same verdict with one more reason; never better than before.
  Verdict with(Reason reason) const;
  Verdict with(Note note) const;

  friend bool operator==(const Verdict&, const Verdict&) = default;

 private:
  friend class Judge;
  Verdict() = default;

  Outcome outcome_ = Outcome::Hold;
  std::vector<Reason> reasons_{Reason::RecordDamaged};
  std::vector<Note> notes_;
};

// What a rule says of a fact: it speaks against, it does not, or the fact it needs is not there.
enum class Finding { No, Yes, Missing };

// Gathers what the rules of a table find.
class Judge final {
 public:
  // `when_missing` is the reason that a missing fact counts as; it must not be one that weighs Clear.
  explicit Judge(Reason when_missing = Reason::RecordDamaged) : when_missing_(when_missing) {}

  void hear(Reason reason, Finding finding);
  // Clear iff at least one rule was heard and none spoke against or missed its fact.
  Verdict verdict() const;

 private:
  Reason when_missing_;
  std::vector<Reason> reasons_;
  bool heard_ = false;
};

}  // namespace loadlight::core
