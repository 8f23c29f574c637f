#include "core/cycle_curve.h"

#include <algorithm>

namespace loadlight::core {
namespace {

bool is_earlier(const CycleSample& a, const CycleSample& b) {
  return a.seconds < b.seconds;
}

}  // namespace

CurveKeeper::Bucket::Bucket(const CycleSample& only) : coldest(only), hottest(only) {
  if (only.kpa_abs) lowest = highest = only;
}

void CurveKeeper::Bucket::take(const Bucket& other) {
  if (other.coldest.celsius < coldest.celsius) coldest = other.coldest;
  if (other.hottest.celsius > hottest.celsius) hottest = other.hottest;
  if (!other.lowest) return;
  if (!lowest || *other.lowest->kpa_abs < *lowest->kpa_abs) lowest = other.lowest;
  if (!highest || *other.highest->kpa_abs > *highest->kpa_abs) highest = other.highest;
}

void CurveKeeper::add(const CycleSample& sample) {
  if (!first_) first_ = sample;
  last_ = sample;
  if (in_last_ < samples_per_bucket_ && !buckets_.empty()) {
    buckets_.back().take(Bucket{sample});
    ++in_last_;
    return;
  }
  if (buckets_.size() == kMostBuckets) join_neighbours();
  buckets_.emplace_back(sample);
  in_last_ = 1;
}

void CurveKeeper::join_neighbours() {
  for (std::size_t i = 0; i < kMostBuckets / 2; ++i) {
    Bucket joined = buckets_[2 * i];
    joined.take(buckets_[2 * i + 1]);
    buckets_[i] = joined;
  }
  buckets_.erase(buckets_.begin() + static_cast<std::ptrdiff_t>(kMostBuckets / 2), buckets_.end());
  samples_per_bucket_ *= 2;
}

std::vector<CurvePoint> CurveKeeper::points() const {
  std::vector<CycleSample> kept;
  if (first_) kept = {*first_, last_};
  for (const Bucket& bucket : buckets_) {
    kept.push_back(bucket.coldest);
    kept.push_back(bucket.hottest);
    if (bucket.lowest) kept.insert(kept.end(), {*bucket.lowest, *bucket.highest});
  }
  std::sort(kept.begin(), kept.end(), is_earlier);
  kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
  std::vector<CurvePoint> points;
  for (const CycleSample& sample : kept) points.push_back({sample.seconds, sample.celsius, sample.kpa_abs});
  return points;
}

}  // namespace loadlight::core
