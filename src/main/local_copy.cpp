#include "local_copy.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <mutex>
#include <optional>
#include <utility>

#include "loadlight/app/keep_copy.h"
#include "loadlight/store/record.h"
#include "loadlight/system/copy_files.h"
#include "office_folder.h"

namespace loadlight {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::chrono::seconds kBetweenPings{5};
constexpr int kMostRounds = 5;

system::CopyFiles files_for(const std::string& address) {
  return system::CopyFiles{files_of(address) + "/copy"};
}

// What only a copy that is made anew cures.
bool is_useless(FailureCode code) {
  return code == FailureCode::RecordsDiffer || code == FailureCode::RecordDamaged ||
         code == FailureCode::OfficeNewer || code == FailureCode::OfficeOlder;
}

// One process at a time brings the record of a copy up to date. Closes, and so unlocks, itself.
class Lock final {
 public:
  explicit Lock(const std::string& folder)
      : file_(::open((folder + "/being-taken").c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, S_IRUSR | S_IWUSR)) {
    held_ = file_ >= 0 && ::flock(file_, LOCK_EX | LOCK_NB) == 0;
  }
  ~Lock() {
    if (file_ >= 0) ::close(file_);
  }
  Lock(const Lock&) = delete;
  Lock& operator=(const Lock&) = delete;
  bool held() const { return held_; }

 private:
  int file_;
  bool held_ = false;
};

class StationCopy final : public port::LocalCopy {
 public:
  StationCopy(const store::GroupPart& part, std::string address)
      : part_(part), address_(std::move(address)), files_(files_for(address_)) {}

  Result<port::CopyView> open() override;
  std::optional<core::Instant> taken() const override {
    const auto state = files_.state();
    return state ? state->taken : std::nullopt;
  }
  Result<void> take(core::Instant now, const std::function<bool()>& goes_on) override;
  Result<void> drop() override;
  Result<bool> queue(const port::QueuedAct& act, core::Instant taken) override { return files_.append(act, taken); }
  Result<std::vector<port::QueuedAct>> queued() const override { return files_.queued(); }
  Result<void> settle(const std::vector<std::string>& ids) override { return files_.settle(ids); }

 private:
  Failure failure(FailureCode code) const { return {code, {{"path", files_.record_folder()}}, {}}; }
  bool is_answered();
  Result<void> take_once(core::Instant now, const std::function<bool()>& goes_on);
  Result<void> fill(const std::function<bool()>& goes_on);
  Result<void> begin_anew();

  const store::GroupPart& part_;
  std::string address_;
  system::CopyFiles files_;
  std::mutex mutex_;
  bool answered_ = false;
  std::optional<std::chrono::steady_clock::time_point> asked_at_;
};

bool StationCopy::is_answered() {
  const std::lock_guard lock{mutex_};
  const auto now = std::chrono::steady_clock::now();
  if (asked_at_ && now - *asked_at_ < kBetweenPings) return answered_;
  answered_ = part_.server_answers(address_);
  asked_at_ = std::chrono::steady_clock::now();
  return answered_;
}

// The state is read before and after: what the record is brought up to meanwhile is newer than it says, but one that
// is made anew meanwhile is none.
Result<port::CopyView> StationCopy::open() {
  const auto state = files_.state();
  if (!state) return state.failure();
  if (!state->taken) return failure(FailureCode::OfficeAbsent);
  if (is_answered()) return failure(FailureCode::OfficeUnreadable);
  auto record = store::open_record(files_.record_folder());
  if (!record) return record.failure();
  auto unit = (*record)->begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto since = files_.state();
  if (!since || *since != *state) return failure(FailureCode::OfficeAbsent);
  return port::CopyView{std::move(*record), std::move(*unit), *state->taken};
}

// One that tells otherwise than the record, as after a backup was put back there, is made anew.
Result<void> StationCopy::take(core::Instant now, const std::function<bool()>& goes_on) {
  if (auto made = files_.prepare(); !made) return made;
  const Lock lock{files_.record_folder()};
  if (!lock.held()) return failure(FailureCode::OfficeBusy);
  auto done = take_once(now, goes_on);
  if (done || !is_useless(done.failure().code)) return done;
  if (auto begun = begin_anew(); !begun) return begun;
  return take_once(now, goes_on);
}

Result<void> StationCopy::take_once(core::Instant now, const std::function<bool()>& goes_on) {
  const auto before = files_.state();
  if (!before) return before.failure();
  if (auto filled = fill(goes_on); !filled) return filled;
  const auto stamped = files_.stamp(*before, now);
  if (!stamped) return stamped.failure();
  return *stamped ? Result<void>{} : failure(FailureCode::OfficeBusy);  // outdated meanwhile: to be taken again
}

Result<void> StationCopy::begin_anew() {
  if (auto outdated = files_.outdate(); !outdated) return outdated;
  std::error_code error;
  for (const char* name : {"record.db", "record.db-wal", "record.db-shm"}) {
    std::filesystem::remove(std::filesystem::path{files_.record_folder()} / name, error);
  }
  return error ? Result<void>{failure(FailureCode::FileUnwritable)} : Result<void>{};
}

// Whole once both ledgers end alike: while others write it may take several rounds.
Result<void> StationCopy::fill(const std::function<bool()>& goes_on) {
  auto made = store::create_record(files_.record_folder());
  if (!made && made.failure().code != FailureCode::OfficeExists) return made.failure();
  if (made) made->reset();
  const store::RecordPlace record{.address = address_};
  const store::RecordPlace copy{.folder = files_.record_folder()};
  store::MirrorOptions options;
  if (goes_on) options.goes_on = [&goes_on](const store::MirrorProgress&) { return goes_on(); };
  for (int round = 0; round < kMostRounds; ++round) {
    const auto mirrored = part_.mirror_record(record, copy, options);
    if (!mirrored) return mirrored.failure();
    const auto same = part_.same_ledger(record, copy);
    if (!same) return same.failure();
    if (*same) return {};
  }
  return failure(FailureCode::OfficeBusy);
}

Result<void> StationCopy::drop() {
  std::error_code error;
  if (!std::filesystem::exists(files_.record_folder() + "/record.db", error)) return {};
  const Lock lock{files_.record_folder()};
  if (!lock.held()) return failure(FailureCode::OfficeBusy);
  return begin_anew();
}

}  // namespace

std::unique_ptr<port::LocalCopy> open_local_copy(const store::GroupPart& part, const std::string& address) {
  return std::make_unique<StationCopy>(part, address);
}

void note_for_copy(const std::string& address, const port::Committed& done) {
  if (!app::leaves_copies_right(done.kinds)) (void)files_for(address).outdate().ok();
}

}  // namespace loadlight
