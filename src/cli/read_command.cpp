#include "cli/answers.h"
#include "cli/arguments.h"
#include "cli/commands.h"

namespace loadlight::cli {
namespace {

struct ReadOptions final {
  std::vector<std::string> images;
};

void answer_sighting(const Context& context, const std::string& file, const port::SymbolSighting& sighting) {
  Json corners = Json::array();
  for (const port::PixelPoint& corner : sighting.corners) corners.push_back({corner.x, corner.y});
  context.answer({{"file", file}, {"text", sighting.text}, {"corners", corners}}, sighting.text);
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
  return status;
}

}  // namespace

void add_read(CLI::App& app, Context& context) {
  CLI::App* verb = add_verb(app, context, "read");
  auto options = on_call<ReadOptions>(*verb, context, read);
  add_option(*verb, context, "images", options->images)->required();
}

}  // namespace loadlight::cli
