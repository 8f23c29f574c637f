#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"

namespace loadlight::cli {
namespace {

struct ReadOptions final {
  std::vector<std::string> images;
};

// A stranger's symbol may hold anything: for the eye one line, and nothing that a terminal obeys.
std::string on_one_line(std::string text) {
  for (char& c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  }
  return text;
}

void answer_sighting(const Context& context, const std::string& file, const port::SymbolSighting& sighting) {
  Json corners = Json::array();
  for (const port::PixelPoint& corner : sighting.corners) corners.push_back({corner.x, corner.y});
  context.answer({{"file", file}, {"text", sighting.text}, {"corners", corners}}, on_one_line(sighting.text));
}

int read(const Context& context, const ReadOptions& options) {
  const auto seeing = context.world.open_seeing();
  if (!seeing) return context.fail(seeing.failure());
  int status = kDone;
  for (const std::string& file : options.images) {
    const auto picture = seeing->pictures->read_file(file);
    if (!picture) {
      context.fail(picture.failure());
      status = kFailed;
      continue;
    }
    for (const auto& sighting : seeing->reader->read(picture->view())) {
      answer_sighting(context, file, sighting);
    }
  }
  return context.delivered(status);
}

}  // namespace

void add_read(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "read");
  auto options = on_call<ReadOptions>(*verb, context, read);
  add_option(*verb, context, "images", options->images)->required();
}

}  // namespace loadlight::cli
