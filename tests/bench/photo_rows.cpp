// Real photographs, named by a manifest.
#include <algorithm>
#include <fstream>
#include <iostream>

#include "bench/frame_rows.h"
#include "loadlight/vision/readers.h"

namespace loadlight::bench {
namespace {

constexpr int kGoalRead = 125;  // of the 137 photographs that the goal speaks of

struct Photo final {
  std::string file;
  std::string text;
};

// The quoted field at `at`, which is left after it and its comma.
std::string take_field(const std::string& line, std::size_t& at) {
  std::string field;
  const bool quoted = at < line.size() && line[at] == '"';
  if (quoted) ++at;
  for (; at < line.size(); ++at) {
    if (quoted && line[at] == '"') {
      if (at + 1 >= line.size() || line[at + 1] != '"') break;
      ++at;
    } else if (!quoted && line[at] == ',') {
      break;
    }
    field += line[at];
  }
  at += quoted ? 2 : 1;
  return field;
}

std::string unescaped(const std::string& text) {
  std::string result;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\\' || i + 1 == text.size()) {
      result += text[i];
      continue;
    }
    const char next = text[++i];
    result += next == 'n' ? '\n' : next == 'r' ? '\r' : next;
  }
  return result;
}

std::vector<Photo> manifest_of(const std::string& folder) {
  std::ifstream file(folder + "/manifest.csv");
  std::vector<Photo> photos;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::size_t at = 0;
    const auto name = take_field(line, at);
    photos.push_back({name, unescaped(take_field(line, at))});
  }
  return photos;
}

// Other symbols in the same photograph are no misreads: only a photograph of which nothing else is read than
// what it does not show counts as wrong.
void add_photo(Score& score, const Photo& photo, Reading reading, Who who) {
  const auto& texts = reading.texts;
  const bool right = std::find(texts.begin(), texts.end(), photo.text) != texts.end();
  if (!right && !texts.empty())
    std::cerr << name_of(who) << " read " << photo.file << " wrong: " << texts.front() << "\n";
  if (right) reading.texts = {photo.text};
  if (!right && !texts.empty()) reading.texts = {texts.front()};
  score.add({photo.text}, reading);
}

}  // namespace

bool print_photo_goals(const std::string& folder) {
  const auto source = vision::make_picture_source();
  Scores scores;
  for (const auto& photo : manifest_of(folder)) {
    const auto picture = source->read_file(folder + "/" + photo.file);
    if (!picture) std::cerr << "unreadable: " << photo.file << "\n";
    for (const auto who : kEverybody) {
      add_photo(of(scores, who), photo, picture ? read_frame_with(who, picture->view()) : Reading{}, who);
    }
  }
  print_head({"photographs", "of", "read", "wrong", "mean ms", "worst ms", "goal", ""});
  for (const auto who : kEverybody) {
    const auto& score = of(scores, who);
    const bool met = score.read >= kGoalRead && score.wrong == 0;
    print_row({name_of(who), std::to_string(score.tried), std::to_string(score.read),
               std::to_string(score.wrong), decimals(1000 * score.mean(), 1), decimals(1000 * score.worst, 0),
               who == Who::Ours ? std::to_string(kGoalRead) + ", none wrong" : "",
               who != Who::Ours ? ""
               : met            ? "met"
                                : "**not met**"});
  }
  return of(scores, Who::Ours).tried > 0;
}

}  // namespace loadlight::bench
