// reading_bench MODE: what is read of modelled labels, shelves and sweeps, and of real photographs, beside
// plain ZXing and zbar in the same run; every result a Markdown table.
//
//   validity               whether the peers come out on the model as they have to; run it first
//   goals                  single labels and bursts
//   shelf [--frames N]     4K frames of 80 labels
//   sweep                  pans along a shelf
//   chairside [--frames N] N clips of a label that is brought before a camera
//   wrong [--frames N]     wrong texts, in frames without labels and among labels
//   photos DIR             a folder of photographs with manifest.csv
//
// --labels N, --seed S, --only ROW. Seeds from 900000 on are for reports alone and were never tuned on.
#include <malloc.h>

#include <cstdlib>
#include <iostream>
#include <opencv2/core.hpp>
#include <optional>

#include "bench/chairside_rows.h"
#include "bench/frame_rows.h"
#include "bench/label_rows.h"

namespace loadlight::bench {
namespace {

struct Orders final {
  std::string mode;
  std::string folder;
  std::optional<int> frames;
  std::optional<int> labels;
  Draw draw;
};

std::optional<Orders> orders_of(int count, char** arguments) {
  if (count < 2) return std::nullopt;
  Orders orders;
  orders.mode = arguments[1];
  int i = 2;
  if (orders.mode == "photos" && count > 2) orders.folder = arguments[i++];
  for (; i + 1 < count; i += 2) {
    const std::string option = arguments[i];
    const char* value = arguments[i + 1];
    if (option == "--labels")
      orders.labels = std::atoi(value);
    else if (option == "--frames")
      orders.frames = std::atoi(value);
    else if (option == "--seed")
      orders.draw.seed = std::strtoull(value, nullptr, 10);
    else if (option == "--only")
      orders.draw.only = value;
    else
      return std::nullopt;
  }
  if (i != count) return std::nullopt;
  return orders;
}

bool carry_out(Orders& orders) {
  auto& draw = orders.draw;
  draw.labels = orders.labels.value_or(orders.mode == "wrong" ? 20000 : 300);
  if (orders.mode == "validity")
    print_validity(draw);
  else if (orders.mode == "goals")
    print_label_goals(draw);
  else if (orders.mode == "shelf")
    print_shelf_goals(draw, orders.frames.value_or(4));
  else if (orders.mode == "sweep")
    print_sweep_goals(draw);
  else if (orders.mode == "chairside")
    print_chairside(draw, orders.frames.value_or(40));
  else if (orders.mode == "wrong")
    print_wrong_texts(draw, orders.frames.value_or(10000));
  else if (orders.mode == "photos")
    return print_photo_goals(orders.folder);
  else
    return false;
  return true;
}

}  // namespace
}  // namespace loadlight::bench

int main(int count, char** arguments) {
  mallopt(M_MMAP_THRESHOLD, 1 << 26);  // pictures come from the heap, not from fresh pages each
  mallopt(M_TRIM_THRESHOLD, 1 << 28);
  auto orders = loadlight::bench::orders_of(count, arguments);
  if (orders && loadlight::bench::carry_out(*orders)) return 0;
  std::cerr << "usage: reading_bench validity|goals|shelf|sweep|chairside|wrong|photos DIR [--labels N] "
               "[--frames N] "
               "[--seed S] [--only ROW]\n";
  return 2;
}
