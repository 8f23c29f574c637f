#include <iostream>
#include <optional>

#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/print_grading.h"
#include "cli/stream_watch.h"

namespace loadlight::cli {
namespace {

struct ReadOptions final {
  std::vector<std::string> images;
  std::vector<std::string> burst;
  std::string video;
  bool grade = false;
};

// A stranger's symbol may hold anything: for the eye one line, and nothing that a terminal obeys.
std::string on_one_line(std::string text) {
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  }
  return text;
}

Json sighting_json(const std::string& file, const std::string& text, const port::Corners& corners) {
  Json points = Json::array();
  for (const port::PixelPoint& corner : corners) points.push_back({corner.x, corner.y});
  return {{"file", file}, {"text", text}, {"corners", points}};
}

void answer_sightings(const Context& context, const std::string& file,
                      const std::vector<port::SymbolSighting>& sightings) {
  for (const auto& sighting : sightings) {
    context.answer(sighting_json(file, sighting.text, sighting.corners), on_one_line(sighting.text));
  }
}

// Each symbol with an estimate of its print; one that cannot be measured is answered all the same.
void answer_graded(const Context& context, const SeeingLeaves& seeing, const std::string& file,
                   port::GrayView picture) {
  for (const auto& sighting : seeing.reader->read(picture)) {
    Json line = sighting_json(file, sighting.text, sighting.corners);
    const auto measures = seeing.reader->measure(picture, sighting);
    line["print"] = measures ? grades_json(*measures) : Json(nullptr);
    const std::string estimate =
        measures ? grades_text(context, *measures) : context.text("grade.not-measured");
    context.answer(line, on_one_line(sighting.text) + "\n   " + estimate);
  }
}

int read_images(const Context& context, const SeeingLeaves& seeing, const ReadOptions& options) {
  int status = kDone;
  for (const std::string& file : options.images) {
    const auto picture = seeing.pictures->read_file(file);
    if (!picture) {
      status = context.fail(picture.failure());
    } else if (options.grade) {
      answer_graded(context, seeing, file, picture->view());
    } else {
      answer_sightings(context, file, seeing.reader->read(picture->view()));
    }
  }
  return status;
}

// The shots that can be read are read together; symbols lie in the first of those.
int read_burst(const Context& context, const SeeingLeaves& seeing, const std::vector<std::string>& files) {
  int status = kDone;
  std::string first;
  std::vector<port::GrayPicture> pictures;
  for (const std::string& file : files) {
    auto picture = seeing.pictures->read_file(file);
    if (!picture) {
      status = context.fail(picture.failure());
      continue;
    }
    if (pictures.empty()) first = file;
    pictures.push_back(std::move(*picture));
  }
  std::vector<port::GrayView> shots;
  for (const auto& picture : pictures) shots.push_back(picture.view());
  if (!shots.empty()) answer_sightings(context, first, seeing.reader->look(shots, {}).read);
  return status;
}

void answer_new(const Context& context, const std::string& file, int frame, const port::SweepView& view) {
  for (const auto& symbol : view.symbols) {
    if (!symbol.first) continue;
    Json line = sighting_json(file, symbol.text, symbol.corners);
    line["frame"] = frame;
    context.answer(line, on_one_line(symbol.text));
  }
}

// Each label once as long as it stays in view; what was read before the video broke off stands.
int read_video(const Context& context, const SeeingLeaves& seeing, const std::string& file) {
  const auto video = seeing.videos->open(file);
  if (!video) return context.fail(video.failure());
  const auto sweep = seeing.reader->begin_sweep({});
  StreamWatch watch{context, (*video)->outlook().frames};
  std::optional<core::Failure> trouble;
  int last = 0;
  while (std::cout.good() && !watch.is_interrupted()) {
    const auto frame = (*video)->next();
    if (!frame) trouble = frame.failure();
    if (!frame || !*frame) break;
    last = (*frame)->number;
    answer_new(context, file, last, sweep->see(**frame));
    watch.tell_progress(last);
  }
  answer_new(context, file, last, sweep->end());
  return trouble ? context.fail(*trouble) : kDone;
}

int read(const Context& context, const ReadOptions& options) {
  const int ways =
      (options.images.empty() ? 0 : 1) + (options.burst.empty() ? 0 : 1) + (options.video.empty() ? 0 : 1);
  if (ways != 1 || (options.grade && options.images.empty())) {
    return context.fail({core::FailureCode::WrongUsage, {{"problem", context.text("usage.read-what")}}, {}});
  }
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  if (!options.video.empty()) return context.delivered(read_video(context, *seeing, options.video));
  if (!options.burst.empty()) return context.delivered(read_burst(context, *seeing, options.burst));
  return context.delivered(read_images(context, *seeing, options));
}

}  // namespace

void add_read(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "read");
  auto options = on_call<ReadOptions>(*verb, context, read);
  add_option(*verb, context, "images", options->images);
  add_option(*verb, context, "--burst", options->burst);
  add_option(*verb, context, "--video", options->video);
  add_flag(*verb, context, "--grade", options->grade);
}

}  // namespace loadlight::cli
