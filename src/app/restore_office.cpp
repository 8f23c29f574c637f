#include "loadlight/app/restore_office.h"

#include <algorithm>
#include <map>
#include <set>

#include "loadlight/app/act.h"
#include "loadlight/app/make_checkpoint.h"
#include "loadlight/exchange/archive.h"
#include "office_files.h"
#include "verified_copy.h"

namespace loadlight::app {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

Failure unreadable(std::string why) {
  return {FailureCode::BackupUnreadable, {{"why", std::move(why)}}, {}};
}

// Puts the files of an archive into a folder: those that an office has, each once, none larger than it may be.
class Unpacking final {
 public:
  Unpacking(const World& world, std::string folder) : world_(world), folder_(std::move(folder)) {}

  Result<void> begin(const std::string& name, std::uint64_t size) {
    const auto known = std::find_if(std::begin(kOfficeFiles), std::end(kOfficeFiles),
                                    [&](const OfficeFile& file) { return name == file.name; });
    if (known == std::end(kOfficeFiles) || !names_.insert(name).second) return unreadable("unknown-file");
    if (size > known->largest) return unreadable("too-large");
    if (auto ended = end(); !ended) return ended;
    auto file = world_.new_file(folder_ + "/" + name);
    if (!file) return file.failure();
    file_ = std::move(*file);
    return {};
  }

  Result<void> take(std::string_view bytes) { return file_->append(bytes); }

  Result<void> end() {
    if (!file_) return {};
    auto placed = file_->put_in_place();
    file_.reset();
    return placed;
  }

  Result<void> finish() {
    for (const OfficeFile& file : kOfficeFiles) {
      if (file.needed && !names_.contains(file.name)) return unreadable("file-missing");
    }
    return end();
  }

 private:
  const World& world_;
  std::string folder_;
  std::set<std::string> names_;
  std::unique_ptr<port::NewFile> file_;
};

Result<void> unpack(const World& world, const std::string& file, const std::string& folder) {
  Unpacking files{world, folder};
  exchange::ArchiveReader reader{[&](const std::string& name, std::uint64_t size) { return files.begin(name, size); },
                                 [&](std::string_view bytes) { return files.take(bytes); }};
  Result<void> fed;
  const auto read = world.files.each_chunk(file, [&](const port::Files::Chunk& chunk) {
    fed = reader.feed(chunk.bytes);
    return fed.ok();
  });
  if (!read) return read;
  if (!fed) return fed;
  if (auto ended = reader.finish(); !ended) return ended;
  return files.finish();
}

// The furthest that any checkpoint of this office goes beyond the backup's end.
void look_at(const port::CheckpointList& list, const RecordEnd& end, std::optional<NewerElsewhere>& newer) {
  for (const auto& kept : list.kept) {
    const core::Checkpoint& point = kept.checkpoint;
    if (!kept.genuine || point.office != end.office || point.sequence <= end.entry) continue;
    if (newer && newer->last_entry >= point.sequence) continue;
    newer = NewerElsewhere{point.sequence, point.at};
  }
}

Result<void> ask_checkpoints(const World& world, const std::string& folder, const RecordEnd& end,
                             RestoreReply& reply) {
  const auto book = world.open_checkpoints(folder);
  const auto office = book->of_office();
  if (!office) return office.failure();
  const auto station = book->of_station(end.office);
  if (!station) return station.failure();
  look_at(*office, end, reply.by_checkpoints);
  look_at(*station, end, reply.by_checkpoints);
  if (station->kept.empty()) reply.notes.push_back({"restore.no-checkpoints", {}});
  return {};
}

struct Standing final {
  core::PackageState state;
  std::optional<core::LoadState> load;
  bool recalled = false;

  friend bool operator==(const Standing&, const Standing&) = default;
};
using Standings = std::map<std::string, Standing>;

Result<Standings> standings(port::Store& store) {
  const auto unit = store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  std::vector<core::Package> packages;
  const auto read = (*unit)->packages().each([&](const core::Package& package) { packages.push_back(package); });
  if (!read) return read.failure();
  Standings known;
  for (const core::Package& package : packages) {
    const auto load = (*unit)->loads().find(package.load);
    if (!load) return load.failure();
    const auto state = *load ? std::optional{(**load).state} : std::nullopt;
    known.emplace(package.id.text(), Standing{package.state, state, package.recalled});
  }
  return known;
}

const Standing* find(const Standings& known, const std::string& id) {
  const auto found = known.find(id);
  return found == known.end() ? nullptr : &found->second;
}

void set_apart(const std::string& id, const Standing* restored, const Standing* beside,
               std::vector<PackageApart>& apart) {
  if (restored && beside && *restored == *beside) return;
  PackageApart one{*core::PackageId::parse_exact(id), {}, {}, {}, {}, false};
  if (restored) one.restored = restored->state, one.restored_load = restored->load;
  if (beside) one.beside = beside->state, one.beside_load = beside->load, one.beside_recalled = beside->recalled;
  apart.push_back(one);
}

Result<std::vector<PackageApart>> compare(port::Store& restored, port::Store& beside) {
  const auto here = standings(restored);
  if (!here) return here.failure();
  const auto there = standings(beside);
  if (!there) return there.failure();
  std::set<std::string> ids;
  for (const auto& [id, standing] : *here) ids.insert(id);
  for (const auto& [id, standing] : *there) ids.insert(id);
  std::vector<PackageApart> apart;
  for (const std::string& id : ids) set_apart(id, find(*here, id), find(*there, id), apart);
  return apart;
}

Result<bool> is_same_past(port::Store& beside, const RecordEnd& end) {
  const auto unit = beside.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto hash = (*unit)->ledger_hash(end.entry);
  if (!hash) return hash.failure();
  return *hash == end.hash;
}

Result<void> compare_beside(const World& world, const std::string& folder, const VerifiedCopy& copy,
                            RestoreReply& reply) {
  const auto old = world.open_copy(folder);
  if (!old) return old.failure();
  const auto same = is_same_past(*old->store, copy.end);
  if (!same) return same.failure();
  if (!*same) {
    reply.notes.push_back({"restore.beside-differs", {{"path", folder}}});
    return {};
  }
  const auto end = end_of(*old->store);
  if (!end) return end.failure();
  if (end->entry > copy.end.entry) reply.by_beside = NewerElsewhere{end->entry, end->newest};
  auto apart = compare(copy.office->ports.store, *old->store);
  if (!apart) return apart.failure();
  reply.apart = std::move(*apart);
  return {};
}

// The old folder is asked for what it still gives; that it gives nothing keeps nobody from going on.
void ask_beside(const World& world, const std::string& folder, const VerifiedCopy& copy, RestoreReply& reply) {
  if (folder.empty() || compare_beside(world, folder, copy, reply)) return;
  reply.by_beside.reset();
  reply.apart.clear();
  reply.notes.push_back({"restore.beside-unreadable", {{"path", folder}}});
}

Result<void> write_restored(const Ports& ports, const RestoreRequest& request, const RestoreReply& reply,
                            const RecordEnd& end) {
  const auto act = begin_act(ports, request.operator_code);
  if (!act) return act.failure();
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  std::int64_t known = end.entry;
  for (const auto& newer : {reply.by_checkpoints, reply.by_beside}) {
    if (newer) known = std::max(known, newer->last_entry);
  }
  auto written = act->write(core::EventKind::RecordRestored, "", {},
                            {{"entry", std::to_string(end.entry)},
                             {"hash", end.hash},
                             {"missing", std::to_string(known - end.entry)}});
  if (!written) return written;
  return act->unit->commit();
}

// The station gives up, by its own signature, what it knew beyond the backup.
void give_up_later(const World& world, const RestoreRequest& request, RestoreReply& reply) {
  auto leaves = world.open_copy(request.into);
  if (leaves) {
    const auto office = dress_office(world, std::move(*leaves));
    const auto book = world.open_checkpoints(request.into);
    if (office && checkpoint_restored(*book, (*office)->ports, reply.entry)) return;
  }
  reply.notes.push_back({"restore.not-signed", {}});
}

Result<RestoreReply> restore_into_folder(const World& world, const RestoreRequest& request) {
  const auto folder = world.new_folder(request.into);
  if (!folder) return folder.failure();
  if (auto unpacked = unpack(world, request.file, (*folder)->path()); !unpacked) {
    Failure failure = unpacked.failure();
    if (failure.code == FailureCode::BackupUnreadable) failure.details.emplace_back("path", request.file);
    return failure;
  }
  auto copy = verified_copy(world, (*folder)->path());
  if (!copy) return copy.failure();
  RestoreReply reply{copy->end.entry, copy->end.newest, {}, {}, {}, {}};
  if (const auto ok = ask_checkpoints(world, (*folder)->path(), copy->end, reply); !ok) return ok.failure();
  ask_beside(world, request.beside, *copy, reply);
  if (const auto ok = write_restored(copy->office->ports, request, reply, copy->end); !ok) return ok.failure();
  copy->office.reset();
  if (const auto placed = (*folder)->put_in_place(); !placed) return placed.failure();
  give_up_later(world, request, reply);
  return reply;
}

// Sorts by time, and says when.
std::string folder_of_now(const World& world, const std::string& office) {
  std::string at = core::to_text(world.clock.now());
  std::erase_if(at, [](char c) { return c == ':' || c == '-' || c == '.'; });
  return world.files_of(office) + "/restored-" + at;
}

Result<void> must_be_free(const World& world, const std::string& address) {
  const MovingDoor& door = world.group.moving;
  if (auto ready = door.make_ready(address); !ready) return ready;
  const auto empty = door.is_empty(address);
  if (!empty) return empty.failure();
  if (!*empty) return Failure{FailureCode::OfficeExists, {{"path", address}}, {}};
  return {};
}

// Into a folder of this station's first, where it is verified; from there it moves.
Result<RestoreReply> restore_into_group(const World& world, const RestoreRequest& request,
                                        const std::function<bool(const MoveProgress&)>& goes_on) {
  if (const auto free = must_be_free(world, request.into); !free) return free.failure();
  RestoreRequest first = request;
  first.into = folder_of_now(world, request.into);
  auto reply = restore_into_folder(world, first);
  if (!reply) return reply;
  const auto moved = move_office(world, {first.into, request.into, request.operator_code}, goes_on);
  if (!moved) {
    Failure failure = moved.failure();
    failure.details.emplace_back("restored", first.into);
    return failure;
  }
  return reply;
}

}  // namespace

Result<RestoreReply> restore_office(const World& world, const RestoreRequest& request,
                                    const std::function<bool(const MoveProgress&)>& goes_on) {
  const bool is_folder = world.files_of(request.into) == request.into;
  return is_folder ? restore_into_folder(world, request) : restore_into_group(world, request, goes_on);
}

}  // namespace loadlight::app
