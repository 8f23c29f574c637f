// Chooses what stands behind the ports and hands over to the command line.

#include <sys/stat.h>
#include <unistd.h>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/app/again.h"
#include "loadlight/app/make_checkpoint.h"
#include "loadlight/cli/program.h"
#include "loadlight/printing/part.h"
#include "loadlight/render/part.h"
#include "loadlight/store/record.h"
#include "loadlight/system/certificates.h"
#include "loadlight/system/checkpoint_book.h"
#include "loadlight/system/clock.h"
#include "loadlight/system/files.h"
#include "loadlight/system/folders.h"
#include "loadlight/system/keyring.h"
#include "loadlight/system/line_source.h"
#include "loadlight/system/new_files.h"
#include "loadlight/system/part.h"
#include "loadlight/system/pin_book.h"
#include "loadlight/system/private_files.h"
#include "loadlight/system/zone.h"
#include "loadlight/vision/part.h"
#include "loadlight/web/part.h"
#include "group_office.h"
#include "house_move.h"
#include "office_folder.h"

namespace loadlight {
namespace {

using core::Result;

// Every commit may ask for a checkpoint. One that cannot be kept is told by the next verification.
store::RecordOptions with_checkpoints(const port::Clock& clock, const std::string& folder) {
  store::RecordOptions options;
  options.committed = [&clock, folder](const port::Committed& done) {
    app::note_commit();
    try {
      const auto book = system::open_checkpoint_book(files_of(folder));
      (void)app::checkpoint_after(*book, clock.now(), done).ok();
    } catch (...) {  // the commit stands
    }
  };
  return options;
}

Result<app::OfficeLeaves> open_office(const std::string& folder, store::RecordOptions options) {
  if (is_address(folder)) return open_group_office(folder, std::move(options));
  auto store = store::open_record(folder, std::move(options));
  if (!store) return store.failure();
  auto keyring = system::open_keyring(folder);
  if (!keyring) return keyring.failure();
  return app::OfficeLeaves{std::move(*store), std::move(*keyring)};
}

// Of an office in a group's database nothing: a station that began it goes on with what is there.
void unmake_office(const std::string& folder) {
  if (is_address(folder)) return;
  std::error_code ignored;
  for (const char* name : {"keys.json", "pins.json", "checkpoints.jsonl", "record.db", "record.db-wal", "record.db-shm"}) {
    std::filesystem::remove(std::filesystem::path{folder} / name, ignored);
  }
  std::filesystem::remove(folder, ignored);  // only when nothing else is in it
}

// A record in which nothing was ever written: what an init leaves that was cut off. Otherwise `exists`.
Result<std::unique_ptr<port::Store>> unfinished_record(const port::Clock& clock, const std::string& folder,
                                                       const core::Failure& exists) {
  auto store = store::open_record(folder, with_checkpoints(clock, folder));
  if (!store) return exists;
  bool empty = true;
  const auto read = (*store)->each_entry([&empty](const core::LedgerEntry&) { return empty = false; });
  if (!read || !empty) return exists;
  return store;
}

// Makes an office's files, or goes on with those of an init that was cut off: then `begun_before` is set, and
// on failure they stay as they were.
Result<app::OfficeLeaves> make_office(const port::Clock& clock, const std::string& folder,
                                      bool& begun_before) {
  if (is_address(folder)) return make_group_office(folder, clock, with_checkpoints(clock, folder));
  std::error_code error;
  const bool was_there = std::filesystem::exists(folder, error);
  std::filesystem::create_directories(folder, error);
  if (error) {
    return core::Failure{core::FailureCode::FileUnwritable, {{"path", folder}, {"why", error.message()}}, {}};
  }
  if (!was_there) ::chmod(folder.c_str(), S_IRWXU);
  auto store = store::create_record(folder, with_checkpoints(clock, folder));
  begun_before = !store && store.failure().code == core::FailureCode::OfficeExists;
  if (begun_before) store = unfinished_record(clock, folder, store.failure());
  if (!store) {
    if (!was_there) std::filesystem::remove(folder, error);
    return store.failure();
  }
  auto keyring = system::create_keyring(folder, clock.now());
  const bool has_keys = !keyring && keyring.failure().code == core::FailureCode::FileExists;
  if (begun_before && has_keys) keyring = system::open_keyring(folder);
  if (!keyring) {
    store->reset();
    // The record last: one without keys is gone on with, keys without a record are in the way.
    if (!begun_before && !has_keys) std::filesystem::remove(std::filesystem::path{folder} / "keys.json", error);
    if (!begun_before) std::filesystem::remove(std::filesystem::path{folder} / "record.db", error);
    if (!was_there) std::filesystem::remove(folder, error);  // only when nothing else is in it
    return keyring.failure();
  }
  return app::OfficeLeaves{std::move(*store), std::move(*keyring)};
}

Result<app::PrintingLeaves> open_printing() {
  const auto entry = system::load_part_as<const render::RenderPart*()>(system::part_path("render"),
                                                                       render::kRenderPartEntry);
  if (!entry) return entry.failure();
  const render::RenderPart* part = (*entry)();
  return app::PrintingLeaves{part->make_symbol_encoder(), part->make_text_gauge(), part->make_press(),
                             part->make_painter()};
}

Result<app::SeeingLeaves> open_seeing() {
  const auto entry = system::load_part_as<vision::PartEntry>(system::part_path("vision"), vision::kPartEntry);
  if (!entry) return entry.failure();
  const vision::Part* part = (*entry)();
  return app::SeeingLeaves{part->make_symbol_reader(), part->make_picture_source(), part->make_camera_door(),
                            part->make_video_door()};
}

Result<std::unique_ptr<port::Printers>> open_printers() {
  const auto entry =
      system::load_part_as<printing::PartEntry>(system::part_path("printing"), printing::kPartEntry);
  if (!entry) return entry.failure();
  return (*entry)()->make_printers();
}

// Until the process is asked to end.
Result<void> serve(const app::World& world, const app::StationSettings& settings) {
  const auto entry = system::load_part_as<web::PartEntry>(system::part_path("web"), web::kPartEntry);
  if (!entry) return entry.failure();
  const auto endings = system::open_line_source(system::kNoInput);  // catches signals from now on
  const auto serving = (*entry)()->start(world, settings);
  if (!serving) return serving.failure();
  while (true) {
    const auto read = endings->next(std::nullopt);
    if (!read) return read.failure();
    if (std::holds_alternative<port::Interrupted>(*read)) return {};
  }
}

bool person_is_there() {
  return ::isatty(STDIN_FILENO) != 0 && ::isatty(STDERR_FILENO) != 0;
}

int run(int count, char** values) {
  std::signal(SIGPIPE, SIG_IGN);  // a reader that goes away is a failed write, not the end of us
  const auto clock = system::make_system_clock();
  const auto files = system::make_files();
  const std::string templates = system::templates_folder();
  bool begun_before = false;  // by an init that was cut off
  app::GroupDoor group = make_group_door();
  group.moving = make_moving_door(*clock);
  const app::World world{
      .clock = *clock,
      .files = *files,
      .group = std::move(group),
      .files_of = files_of,
      .open_office =
          [&](const std::string& folder) { return open_office(folder, with_checkpoints(*clock, folder)); },
      .make_office = [&](const std::string& folder) { return make_office(*clock, folder, begun_before); },
      .unmake_office =
          [&](const std::string& folder) {
            if (!begun_before) unmake_office(folder);
          },
      .add_key =
          [&](const std::string& folder) {
            return is_address(folder) ? add_group_key(folder, *clock) : system::add_key(folder, clock->now());
          },
      .exposed_files = [](const std::string& folder) { return system::exposed_files(files_of(folder)); },
      .open_checkpoints = [](const std::string& folder) { return system::open_checkpoint_book(files_of(folder)); },
      .copy_record = [](const std::string& folder,
                        const std::string& path) {
        return is_address(folder) ? copy_group_record(folder, path) : store::copy_record(folder, path);
      },
      .open_copy = [](const std::string& folder) { return open_office(folder, {}); },
      .new_file = system::make_new_file,
      .new_folder = system::make_new_folder,
      .open_zone = system::open_zone,
      .zone_names = system::zone_names,
      .open_printing = open_printing,
      .open_seeing = open_seeing,
      .open_pins = [](const std::string& folder) { return system::open_pin_book(files_of(folder)); },
      .open_printers = open_printers,
      .open_certificates =
          [&](const std::string& folder, const std::string& name) {
            return system::open_certificates(files_of(folder), name, clock->now(), system::this_machine());
          },
      .open_standard_input = [] { return system::open_line_source(system::kStandardInput); },
      .serve = [&world](const app::StationSettings& settings) { return serve(world, settings); },
      .person_is_there = person_is_there,
      .own_zone_name = system::system_zone_name(),
      .office_folder = system::default_office_folder(),
      .templates_folder = templates,
      .samples_folder = system::samples_folder()};
  return cli::run({values + 1, values + count}, world);
}

}  // namespace
}  // namespace loadlight

int main(int count, char** values) {
  try {
    return loadlight::run(count, values);
  } catch (...) {
    std::fputs("loadlight: could not start; nothing was changed.\n", stderr);
    return 1;
  }
}
