#include "house_move.h"

#include <sys/stat.h>

#include <filesystem>

#include "group_office.h"
#include "loadlight/store/record.h"
#include "loadlight/system/files.h"
#include "loadlight/system/folders.h"
#include "loadlight/system/new_files.h"
#include "office_folder.h"

namespace loadlight {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;
namespace fs = std::filesystem;

store::RecordPlace place_of(const std::string& office) {
  return is_address(office) ? store::RecordPlace{.address = office} : store::RecordPlace{.folder = office};
}

std::string name_of(const std::string& place) {
  if (is_address(place)) return place;
  std::error_code error;
  const auto whole = fs::weakly_canonical(fs::absolute(place, error), error);
  const std::string name = error ? place : whole.string();
  return name.size() > 1 && name.ends_with('/') ? name.substr(0, name.size() - 1) : name;
}

Failure unwritable(const std::string& path, const std::string& why) {
  return {FailureCode::FileUnwritable, {{"path", path}, {"why", why}}, {}};
}

Result<void> make_ready(const std::string& place) {
  if (is_address(place)) {
    const auto fine = check_address(place);
    return fine ? system::make_station_folder(files_of(place)) : fine;
  }
  std::error_code error;
  const bool was_there = fs::exists(place, error);
  fs::create_directories(place, error);
  if (error) return unwritable(place, error.message());
  if (!was_there) ::chmod(place.c_str(), S_IRWXU);
  const auto made = store::create_record(place);
  if (!made && made.failure().code != FailureCode::OfficeExists) return made.failure();
  return {};
}

// What was there is of the office's earlier time in this place. The source keeps its own: one that is cut off between
// is done again.
Result<void> put_file(const std::string& path, const std::string& bytes) {
  if (auto made = system::make_station_folder(fs::path{path}.parent_path()); !made) return made;
  std::error_code error;
  fs::remove(path, error);
  if (error) return unwritable(path, error.message());
  const auto file = system::make_new_file(path);
  if (!file) return file.failure();
  if (auto put = (*file)->append(bytes); !put) return put;
  return (*file)->put_in_place();
}

Result<std::int64_t> copy_entries(const std::string& from, const std::string& to,
                                  const std::function<bool(const app::CopyProgress&)>& goes_on) {
  const auto part = group_part();
  if (!part) return part.failure();
  store::MirrorOptions options;
  options.goes_on = [&goes_on](const store::MirrorProgress& at) { return goes_on({at.done, at.all}); };
  const auto reply = (*part)->mirror_record(place_of(from), place_of(to), options);
  if (!reply) return reply.failure();
  return reply->added;
}

// Calls a function of the part with the places that are named, and what follows them.
template <class Wanted, class... More>
auto with_place(Wanted wanted) {
  return [wanted](const std::string& place, const More&... more) {
    using Reply = decltype((std::declval<const store::GroupPart&>().*wanted)(place_of(place), more...));
    const auto part = group_part();
    return part ? ((*part)->*wanted)(place_of(place), more...) : Reply{part.failure()};
  };
}

}  // namespace

// Entry by entry, which would put right without a word what was altered in a table.
Result<void> copy_group_record(const std::string& address, const std::string& path) {
  const auto part = group_part();
  if (!part) return part.failure();
  const store::RecordPlace copy{.folder = fs::path{path}.parent_path()};
  const auto found = (*part)->verify_place({.address = address}, {});
  if (!found) return found.failure();
  if (!found->empty()) return app::record_altered(address, *found);
  if (const auto made = store::create_record(copy.folder); !made) return made.failure();
  const auto copied = (*part)->mirror_record({.address = address}, copy, {});
  if (!copied) return copied.failure();
  return {};
}

app::MovingDoor make_moving_door(const port::Clock& clock) {
  using Part = store::GroupPart;
  app::MovingDoor door;
  door.name_of = name_of;
  door.make_ready = make_ready;
  door.is_empty = with_place(&Part::is_empty_record);
  door.whereabouts = with_place(&Part::whereabouts_of);
  door.set_whereabouts = with_place<decltype(&Part::set_whereabouts), port::Whereabouts>(&Part::set_whereabouts);
  door.copy_entries = copy_entries;
  door.verify = with_place<decltype(&Part::verify_place), std::function<bool(const port::VerifyProgress&)>>(&Part::verify_place);
  door.are_same = [](const std::string& one, const std::string& other) -> Result<bool> {
    const auto part = group_part();
    return part ? (*part)->same_ledger(place_of(one), place_of(other)) : part.failure();
  };
  door.put_file = put_file;
  door.hand_keys = [&clock](const std::string& place) -> Result<void> {
    return is_address(place) ? hand_group_keys(place, clock) : Result<void>{};
  };
  return door;
}

}  // namespace loadlight
