#include "loadlight/app/back_up.h"

#include "loadlight/app/act.h"
#include "loadlight/exchange/archive.h"
#include "office_files.h"
#include "verified_copy.h"

namespace loadlight::app {
namespace {

using core::Result;

Result<Act> begin_backup(const Ports& ports, std::string_view operator_code) {
  auto act = begin_act(ports, operator_code);
  if (!act) return act;
  if (const auto lead = require_lead(act->who); !lead) return lead.failure();
  return act;
}

Result<void> copy_file(const World& world, const std::string& from, const std::string& to, const OfficeFile& file) {
  const auto bytes = bytes_of(world, from, file);
  if (!bytes) return bytes.failure();
  if (!*bytes) return {};
  const auto copy = world.new_file(to);
  if (!copy) return copy.failure();
  if (auto put = (*copy)->append(**bytes); !put) return put;
  return (*copy)->put_in_place();
}

Result<void> copy_office(const World& world, const std::string& folder, const std::string& into) {
  if (auto copied = world.copy_record(folder, into + "/" + kRecordName); !copied) return copied;
  const std::string files = world.files_of(folder);
  for (const OfficeFile& file : kOfficeFiles) {
    if (file.name == std::string_view{kRecordName}) continue;
    const std::string name = std::string{"/"} + file.name;
    if (auto copied = copy_file(world, files + name, into + name, file); !copied) return copied;
  }
  return {};
}

// In two looks at the file: how long it is stands before it.
Result<void> pack_file(const World& world, const std::string& path, const OfficeFile& file, port::NewFile& out) {
  std::uint64_t size = 0;
  const auto looked = world.files.each_chunk(path, [&](const port::Files::Chunk& chunk) {
    size = chunk.total;
    return false;
  });
  if (!looked && !file.needed) return {};
  if (!looked) return looked;
  const auto header = exchange::archive_header(file.name, size, world.clock.now());
  if (!header) return header.failure();
  if (auto put = out.append(*header); !put) return put;
  Result<void> put;
  std::uint64_t packed = 0;
  const auto read = world.files.each_chunk(path, [&](const port::Files::Chunk& chunk) {
    packed += chunk.bytes.size();
    put = out.append(chunk.bytes);
    return put.ok();
  });
  if (!read) return read;
  if (!put) return put;
  if (packed != size) return core::Failure{core::FailureCode::FileUnreadable, {{"path", path}, {"why", "cut-short"}}, {}};
  return out.append(exchange::archive_padding(size));
}

Result<void> pack_office(const World& world, const std::string& folder, port::NewFile& out) {
  for (const OfficeFile& file : kOfficeFiles) {
    if (auto packed = pack_file(world, folder + "/" + file.name, file, out); !packed) return packed;
  }
  return out.append(exchange::archive_end());
}

// The file is in its place before the ledger says so, and goes again when the ledger cannot.
Result<void> hand_out(const Ports& ports, std::string_view operator_code, const RecordEnd& end, port::NewFile& out) {
  const auto act = begin_backup(ports, operator_code);
  if (!act) return act.failure();
  auto written = act->write(core::EventKind::RecordBackedUp, "", {},
                            {{"entry", std::to_string(end.entry)}, {"hash", end.hash}});
  if (!written) return written;
  if (auto placed = out.put_in_place(); !placed) return placed;
  auto done = act->unit->commit();
  if (!done) out.take_back();
  return done;
}

}  // namespace

std::string backup_name(const Ports& ports) {
  return "loadlight-" + ports.zone.local_date(ports.clock.now()).iso() + ".tar";
}

Result<BackupReply> back_up(const World& world, const std::string& office_folder, const Ports& ports,
                            std::string_view operator_code, port::NewFile& out) {
  if (const auto may = begin_backup(ports, operator_code); !may) return may.failure();
  const auto folder = world.new_folder(world.files_of(office_folder) + "/copy");
  if (!folder) return folder.failure();
  if (const auto copied = copy_office(world, office_folder, (*folder)->path()); !copied) return copied.failure();
  auto copy = verified_copy(world, (*folder)->path());
  if (!copy) return copy.failure();
  const RecordEnd end = copy->end;
  copy->office.reset();  // its files are whole once it is closed
  if (const auto packed = pack_office(world, (*folder)->path(), out); !packed) return packed.failure();
  if (const auto done = hand_out(ports, operator_code, end, out); !done) return done.failure();
  return BackupReply{end.entry, end.hash};
}

}  // namespace loadlight::app
