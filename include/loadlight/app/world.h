// The world around a front: what main chose to stand behind the ports, and where things lie. Offices, printing
// and seeing are opened only when they are needed.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "loadlight/app/group_door.h"
#include "loadlight/app/queued_acts.h"
#include "loadlight/core/result.h"
#include "loadlight/label/press.h"
#include "loadlight/port/certificates.h"
#include "loadlight/port/checkpoints.h"
#include "loadlight/port/clock.h"
#include "loadlight/port/files.h"
#include "loadlight/port/frame_source.h"
#include "loadlight/port/keyring.h"
#include "loadlight/port/line_source.h"
#include "loadlight/port/local_copy.h"
#include "loadlight/port/new_files.h"
#include "loadlight/port/pin_book.h"
#include "loadlight/port/printer.h"
#include "loadlight/port/store.h"
#include "loadlight/port/symbol_encoder.h"
#include "loadlight/port/symbol_reader.h"
#include "loadlight/port/zone.h"

namespace loadlight::app {

struct OfficeLeaves final {
  std::unique_ptr<port::Store> store;
  std::unique_ptr<port::Keyring> keyring;
  std::unique_ptr<port::LocalCopy> copy{};  // none of an office in a folder
};
struct PrintingLeaves final {
  std::unique_ptr<port::SymbolEncoder> encoder;
  std::unique_ptr<label::TextGauge> gauge;
  std::unique_ptr<label::Press> press;
  std::unique_ptr<label::Painter> painter;
};
struct SeeingLeaves final {
  std::unique_ptr<port::SymbolReader> reader;
  std::unique_ptr<port::PictureSource> pictures;
  std::unique_ptr<port::CameraDoor> cameras;
  std::unique_ptr<port::VideoDoor> videos;
};

// How the station is to be served.
struct StationSettings final {
  std::string office_folder;
  int port = 8425;   // 0: any that is free
  bool lan = false;  // for the tablets of the office, under TLS; else for this machine alone
  std::function<void(const std::string& url)> listening;  // called once, when it answers
  // Called, from a thread of its own, when what was done without the record was written into it.
  std::function<void(const Ports& ports, const QueueReply& written)> settled{};
};

// Wherever a folder names an office an address may, too (group_door.h).
struct World final {
  const port::Clock& clock;
  const port::Files& files;
  GroupDoor group{};
  // Where the office's files lie: its keys, PINs, checkpoints; the folder itself, unless an address names it.
  std::function<std::string(const std::string& office)> files_of;
  std::function<core::Result<OfficeLeaves>(const std::string& folder)> open_office;
  // Makes the folder, its keys and its empty record; leaves nothing behind when it fails.
  std::function<core::Result<OfficeLeaves>(const std::string& folder)> make_office;
  // Takes back what make_office made.
  std::function<void(const std::string& folder)> unmake_office;
  // Adds a key to the office's, which signs from then on; the caller holds the record's write unit.
  std::function<core::Result<void>(const std::string& folder)> add_key;
  // Names of the office's files that others than their owner may read or write.
  std::function<std::vector<std::string>(const std::string& folder)> exposed_files;
  // The checkpoints of the office in this folder.
  std::function<std::unique_ptr<port::CheckpointBook>(const std::string& folder)> open_checkpoints;
  // A record as it stands at one moment, as a new file: a record of its own.
  std::function<core::Result<void>(const std::string& folder, const std::string& path)> copy_record;
  // An office that is a copy: nothing done in it makes a checkpoint.
  std::function<core::Result<OfficeLeaves>(const std::string& folder)> open_copy;
  // What comes to be at this path as a whole, private to its user.
  std::function<core::Result<std::unique_ptr<port::NewFile>>(const std::string& path)> new_file;
  std::function<core::Result<std::unique_ptr<port::NewFolder>>(const std::string& path)> new_folder;
  std::function<core::Result<std::unique_ptr<port::Zone>>(const std::string& name)> open_zone;
  std::function<std::vector<std::string>()> zone_names;  // that an office may choose from
  std::function<core::Result<PrintingLeaves>()> open_printing;
  std::function<core::Result<SeeingLeaves>()> open_seeing;
  // The PINs of the office in this folder, kept there.
  std::function<std::unique_ptr<port::PinBook>(const std::string& folder)> open_pins;
  std::function<core::Result<std::unique_ptr<port::Printers>>()> open_printers;
  // The certificates of the office of this name in this folder, made where there are none.
  std::function<core::Result<port::StationCertificates>(const std::string& folder, const std::string& name)>
      open_certificates;
  std::function<std::unique_ptr<port::LineSource>()> open_standard_input;
  // Serves the station until the process is asked to end.
  std::function<core::Result<void>(const StationSettings&)> serve;
  std::function<bool()> person_is_there;   // standard input and error are a terminal
  std::string own_zone_name;               // of this machine
  std::string office_folder;               // used when no other is given
  std::string templates_folder;            // labels/, mappings/, web/ and words/
  std::string samples_folder;              // the demo office
};

}  // namespace loadlight::app
