#include "loadlight/core/print_grade.h"

namespace loadlight::core {

std::string_view letter_of(int grade) {
  constexpr std::string_view kLetters[] = {"F", "D", "C", "B", "A"};
  return kLetters[grade >= 0 && grade <= 4 ? grade : 0];
}

}  // namespace loadlight::core
