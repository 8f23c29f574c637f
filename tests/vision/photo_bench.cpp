// photo_bench FOLDER: reads every picture that FOLDER/manifest.csv names (columns file, expected_text, and
// others; quotes doubled, backslashes doubled, line ends written \n and \r) and prints how many were read,
// and how many wrong, beside plain ZXing over the whole picture in the same run.
#include <algorithm>
#include <chrono>
#include <fstream>
#include <iostream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "loadlight/vision/readers.h"
#include "vision/plain_reader.h"

namespace loadlight::vision_tests {
namespace {

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

struct Score final {
  int read = 0;
  int wrong = 0;
  double seconds = 0;
};

template <class Read>
void score(const Photo& photo, Score& score, const Read& read) {
  const auto start = std::chrono::steady_clock::now();
  const std::vector<std::string> texts = read();
  score.seconds += std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const bool right = std::find(texts.begin(), texts.end(), photo.text) != texts.end();
  score.read += right;
  score.wrong += !right && !texts.empty();
  if (!right && !texts.empty()) std::cout << "wrong: " << photo.file << ": " << texts.front() << "\n";
}

void print(const char* who, const Score& score, std::size_t photos) {
  std::cout << who << ": read " << score.read << " of " << photos << ", wrong " << score.wrong << ", "
            << score.seconds << " s\n";
}

int run(const std::string& folder) {
  const auto photos = manifest_of(folder);
  const auto source = vision::make_picture_source();
  const auto reader = vision::make_symbol_reader();
  Score ours;
  Score plain;
  for (const auto& photo : photos) {
    const auto picture = source->read_file(folder + "/" + photo.file);
    if (!picture) {
      std::cout << "unreadable: " << photo.file << "\n";
      continue;
    }
    score(photo, ours, [&] {
      std::vector<std::string> texts;
      for (const auto& sighting : reader->read(picture->view())) texts.push_back(sighting.text);
      return texts;
    });
    score(photo, plain, [&] { return plain_zxing(picture->view()); });
  }
  print("loadlight", ours, photos.size());
  print("plain ZXing", plain, photos.size());
  return photos.empty() ? 1 : 0;
}

}  // namespace
}  // namespace loadlight::vision_tests

int main(int count, char** arguments) {
  if (count == 2) return loadlight::vision_tests::run(arguments[1]);
  std::cerr << "usage: photo_bench FOLDER\n";
  return 2;
}
