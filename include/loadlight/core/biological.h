// What the result of a biological indicator says, and when the next one is due.
#pragma once

#include <optional>
#include <span>

#include "loadlight/core/dates.h"
#include "loadlight/core/evidence.h"
#include "loadlight/core/profiles.h"

namespace loadlight::core {

enum class BiologicalStanding {
  Negative,  // no growth, beside a control of the same lot that grew
  Positive,  // growth, whatever the control
  Invalid,   // no growth, and nothing that shows that the spores could have grown
  Lost,      // never read
};

BiologicalStanding standing_of(const BiologicalReading& reading, const Profile& profile);
bool is_valid_negative(const BiologicalReading& reading, const Profile& profile);

// What everything recorded for one load says together; nothing while a result is still awaited.
//
// A growth once recorded is never outvoted: of two results entered differently, the wrong one cannot be
// told from here, and spores do not grow by a slip of the pen. Otherwise a later entry for the same
// indicator takes the earlier one's place, and where several indicators were in the load the worst of them
// speaks for it: each lay where the others did not.
std::optional<BiologicalStanding> standing_of(std::span<const BiologicalRun> runs,
                                              std::span<const BiologicalReading> readings,
                                              const Profile& profile);

// The day on which the next indicator is to be run; its own day is not late. Counted from the day of the
// last run, never from that of its result; from the first day of use where there was none. None: the
// frequency asks for no routine test.
std::optional<CivilDate> next_biological_due(Frequency frequency, std::optional<CivilDate> last_run_day,
                                             CivilDate first_used_day);

template <>
struct Vocabulary<BiologicalStanding> {
  static constexpr Term<BiologicalStanding> kTerms[] = {{BiologicalStanding::Negative, "negative"},
                                                        {BiologicalStanding::Positive, "positive"},
                                                        {BiologicalStanding::Invalid, "invalid"},
                                                        {BiologicalStanding::Lost, "lost"}};
};

}  // namespace loadlight::core
