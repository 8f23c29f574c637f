#include "group_office.h"

#include <chrono>
#include <filesystem>
#include <mutex>
#include <utility>

#include "loadlight/store/late_store.h"
#include "loadlight/system/checkpoint_book.h"
#include "loadlight/system/keyring.h"
#include "loadlight/system/part.h"
#include "loadlight/system/folders.h"
#include "loadlight/system/station_keys.h"
#include "local_copy.h"
#include "office_folder.h"

namespace loadlight {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::chrono::seconds kBetweenLooks{10};

Result<void> fetch_keys(const store::GroupPart& part, const std::string& address) {
  const auto wrapped = part.read_wrapped_keys(address);
  if (!wrapped) return wrapped.failure();
  if (!*wrapped) return {};
  return system::take_wrapped_keys(files_of(address), **wrapped);
}

// A label that no key fits may be signed by one that another station added a moment ago.
class FetchingKeyring final : public port::Keyring {
 public:
  FetchingKeyring(const store::GroupPart& part, std::string address, std::unique_ptr<port::Keyring> own)
      : part_(part), address_(std::move(address)), own_(std::move(own)) {}

  std::string mac(std::string_view signed_part) const override { return own_->mac(signed_part); }
  bool verifies(std::string_view signed_part, std::string_view authenticator) const override {
    if (own_->verifies(signed_part, authenticator)) return true;
    return fetched() && own_->verifies(signed_part, authenticator);
  }
  int current_key() const override { return own_->current_key(); }
  void fill_random(std::span<std::uint8_t> out) const override { own_->fill_random(out); }

 private:
  bool fetched() const {
    const std::lock_guard lock{mutex_};
    const auto now = std::chrono::steady_clock::now();
    if (last_ && now - *last_ < kBetweenLooks) return false;
    last_ = now;
    return fetch_keys(part_, address_).ok();
  }

  const store::GroupPart& part_;
  std::string address_;
  std::unique_ptr<port::Keyring> own_;
  mutable std::mutex mutex_;
  mutable std::optional<std::chrono::steady_clock::time_point> last_;
};

Result<std::unique_ptr<port::Store>> open_record(const store::GroupPart& part, const std::string& address,
                                                 store::RecordOptions options) {
  const auto station = system::station_name(files_of(address));
  if (!station) return station.failure();
  return part.open_record(address, {*station, options.patience, std::move(options.committed), {}});
}

bool is_empty(port::Store& record) {
  bool empty = true;
  const auto read = record.each_entry([&empty](const core::LedgerEntry&) { return empty = false; });
  return read && empty;
}

// Keys that are there are of a station that began the office and did not come to its end: of this one, or the code
// of that one is needed.
Result<void> found(const store::GroupPart& part, const std::string& address, core::Instant now) {
  const std::string folder = files_of(address);
  const auto there = part.read_wrapped_keys(address);
  if (!there) return there.failure();
  if (*there) return system::take_wrapped_keys(folder, **there);
  std::error_code error;
  if (!std::filesystem::exists(folder + "/station.json", error)) {
    if (auto begun = system::found_station(folder, {}, now); !begun) return begun;
  }
  const auto wrapped = system::wrapped_keys(folder);
  if (!wrapped) return wrapped.failure();
  return part.keep_wrapped_keys(address, std::nullopt, *wrapped);
}

// What this station writes may outdate its copy.
store::RecordOptions with_copy(const std::string& address, store::RecordOptions options) {
  options.committed = [address, committed = std::move(options.committed)](const port::Committed& done) {
    note_for_copy(address, done);
    if (committed) committed(done);
  };
  return options;
}

// Another station may have added keys since.
Result<app::OfficeLeaves> with_keys(const store::GroupPart& part, const std::string& address,
                                    std::unique_ptr<port::Store> record) {
  auto own = system::open_keyring(files_of(address));
  if (!own) return own.failure();
  return app::OfficeLeaves{std::move(record), std::make_unique<FetchingKeyring>(part, address, *std::move(own)),
                           open_local_copy(part, address)};
}

// Of an office in a folder there is nothing to hand over: its folder is its only station's.
Result<app::Invitation> invite(const std::string& address) {
  if (!is_address(address)) return Failure{FailureCode::OfficeNotShared, {{"path", address}}, {}};
  auto code = system::invitation_of(files_of(address));
  if (!code) return code.failure();
  return app::Invitation{*std::move(code)};
}

// The office may have moved here from where this station knew it. What fails here is told when the ledger is verified.
void take_up_what_is_known(const store::GroupPart& part, const std::string& address) {
  const auto record = open_record(part, address, {});
  if (!record) return;
  const auto unit = (*record)->begin(port::Access::Read);
  if (!unit) return;
  const auto office = (*unit)->ledger_hash(1);
  if (office && *office) (void)system::take_up_checkpoints(files_of(address), **office).ok();
}

Result<std::string> join(const std::string& address, const std::string& code, const std::string& station) {
  if (!is_address(address)) return Failure{FailureCode::OfficeNotShared, {{"path", address}}, {}};
  if (const auto fine = check_address(address); !fine) return fine.failure();
  const auto part = group_part();
  if (!part) return part.failure();
  const auto wrapped = (*part)->read_wrapped_keys(address);
  if (!wrapped) return wrapped.failure();
  const auto joined = system::join_station(files_of(address), station, code, wrapped->value_or(""));
  if (!joined) return joined.failure();
  take_up_what_is_known(**part, address);
  return system::station_name(files_of(address));
}

Result<std::unique_ptr<port::Store>> open_led_office(const std::string& address, const std::string& office) {
  const auto part = group_part();
  if (!part) return part.failure();
  return (*part)->open_record(address, {.station = "LEAD", .office = office});
}

Result<std::unique_ptr<port::LocalCopy>> copy_beside(const std::string& address) {
  if (!is_address(address)) return Failure{FailureCode::BadValue, {{"field", "old-place"}, {"given", address}}, {}};
  const auto part = group_part();
  if (!part) return part.failure();
  return open_local_copy(**part, address);
}

std::unique_ptr<port::ChangeListener> listen(const std::string& address, std::function<void()> told) {
  if (!is_address(address)) return nullptr;
  const auto part = group_part();
  return part ? (*part)->listen_for_changes(address, std::move(told)) : nullptr;
}

}  // namespace

Result<const store::GroupPart*> group_part() {
  const auto entry = system::load_part_as<store::GroupPartEntry>(system::part_path("group"), store::kGroupPartEntry);
  if (!entry) return entry.failure();
  return (*entry)();
}

Result<app::OfficeLeaves> open_group_office(const std::string& address, store::RecordOptions options) {
  if (const auto fine = check_address(address); !fine) return fine.failure();
  const auto part = group_part();
  if (!part) return part.failure();
  const store::RecordOptions noted = with_copy(address, std::move(options));
  store::LateStoreOptions late{[part = *part, address, noted] { return open_record(*part, address, noted); }};
  const auto begun = std::chrono::steady_clock::now();
  auto record = late.open();
  if (!record && record.failure().code != FailureCode::OfficeUnreadable) return record.failure();
  if (!record) late.failed = record.failure();
  late.failed_after = std::chrono::steady_clock::now() - begun;
  if (record) {
    if (const auto fetched = fetch_keys(**part, address); !fetched) return fetched.failure();
    late.opened = std::move(*record);
  }
  return with_keys(**part, address, store::make_late_store(std::move(late)));
}

Result<app::OfficeLeaves> make_group_office(const std::string& address, const port::Clock& clock,
                                            store::RecordOptions options) {
  if (const auto fine = check_address(address); !fine) return fine.failure();
  const auto part = group_part();
  if (!part) return part.failure();
  const auto look = (*part)->open_record(address, {.station = "FIRST"});
  if (!look) return look.failure();
  if (!is_empty(**look)) return Failure{FailureCode::OfficeExists, {{"path", address}}, {}};
  if (const auto begun = found(**part, address, clock.now()); !begun) return begun.failure();
  return open_group_office(address, std::move(options));
}

Result<void> add_group_key(const std::string& address, const port::Clock& clock) {
  const auto part = group_part();
  if (!part) return part.failure();
  const std::string folder = files_of(address);
  const auto before = (*part)->read_wrapped_keys(address);
  if (!before) return before.failure();
  if (*before) {
    if (auto taken = system::take_wrapped_keys(folder, **before); !taken) return taken;
  }
  const auto wrapped = system::wrapped_with_another_key(folder, clock.now());
  if (!wrapped) return wrapped.failure();
  if (auto kept = (*part)->keep_wrapped_keys(address, *before, *wrapped); !kept) return kept;
  return system::take_wrapped_keys(folder, *wrapped);
}

// Keys that are there are of the time before the office was elsewhere.
Result<void> hand_group_keys(const std::string& address, const port::Clock& clock) {
  const auto part = group_part();
  if (!part) return part.failure();
  const auto there = (*part)->read_wrapped_keys(address);
  if (!there) return there.failure();
  if (!*there) return found(**part, address, clock.now());
  const auto wrapped = system::wrapped_keys(files_of(address));
  if (!wrapped) return wrapped.failure();
  return (*part)->keep_wrapped_keys(address, *there, *wrapped);
}

app::GroupDoor make_group_door() {
  app::GroupDoor door;
  door.prepare = [](const std::string& admin) -> Result<void> {
    const auto part = group_part();
    return part ? (*part)->prepare(admin) : part.failure();
  };
  door.admit_office = [](const std::string& admin, const std::string& office, const std::string& role) -> Result<void> {
    const auto part = group_part();
    return part ? (*part)->admit_office(admin, office, role) : part.failure();
  };
  door.admit_lead = [](const std::string& admin, const std::string& role) -> Result<void> {
    const auto part = group_part();
    return part ? (*part)->admit_lead(admin, role) : part.failure();
  };
  door.offices = [](const std::string& address) -> Result<std::vector<std::string>> {
    const auto part = group_part();
    return part ? (*part)->list_offices(address) : part.failure();
  };
  door.open_office = open_led_office;
  door.listen = listen;
  door.copy_beside = copy_beside;
  door.invite = invite;
  door.join = join;
  return door;
}

}  // namespace loadlight
