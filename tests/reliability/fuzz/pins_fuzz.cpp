// pins.json, the operators' PINs, as it may come back from a backup or an editor. The file is put into the folder the
// harness runs in.
//
// Promises: a file is read as a book or refused; a book never takes a PIN that it does not hold for the right one, and
// locks after as many wrong ones as it should, whatever counts and times stand in it; waits are within their bounds.
#include <fstream>

#include "fuzz_input.h"
#include "loadlight/system/pin_book.h"

namespace loadlight::fuzz {
namespace {

using port::PinAnswer;

constexpr std::chrono::seconds kLongestWait{1024};

void must_refuse(const core::Failure& failure) {
  promise(failure.code == core::FailureCode::PinsUnreadable, "a file that is no book is refused as one");
}

// Tries wrong PINs, each after the longest wait, until the book locks.
void try_wrong(port::PinBook& book, std::string_view code) {
  core::Instant now = core::instant_from(1'795'000'000'000);
  for (int tries = 0; tries <= port::PinBook::kMostWrong; ++tries) {
    const auto checked = book.check(code, "000000", now);
    if (!checked) return must_refuse(checked.failure());
    promise(checked->answer != PinAnswer::Right, "a wrong PIN is never right");
    promise(checked->wait >= std::chrono::seconds{0} && checked->wait <= kLongestWait, "a wait is within its bounds");
    if (checked->answer == PinAnswer::Locked || checked->answer == PinAnswer::None) return;
    now += kLongestWait;
  }
  const auto last = book.check(code, "000000", now);
  promise(last && (last->answer == PinAnswer::Locked || last->answer == PinAnswer::Wait), "wrong PINs lock");
}

}  // namespace
}  // namespace loadlight::fuzz

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace loadlight;
  const std::string_view text = fuzz::Input{data, size}.rest();
  std::ofstream{"pins.json", std::ios::binary | std::ios::trunc} << text;
  const auto book = system::open_pin_book(".");
  for (const std::string_view code : {"AB", "CD"}) {
    const auto has = book->has(code);
    if (!has) {
      fuzz::must_refuse(has.failure());
      return 0;
    }
    fuzz::try_wrong(*book, code);
  }
  return 0;
}
