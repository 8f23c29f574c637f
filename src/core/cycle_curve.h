// A curve for drawing out of any number of samples: equal runs of samples are kept as their extremes, and
// when there are too many runs, neighbours are joined.
#pragma once

#include <vector>

#include "loadlight/core/cycle.h"

namespace loadlight::core {

class CurveKeeper final {
 public:
  void add(const CycleSample& sample);
  std::vector<CurvePoint> points() const;  // in order, at most kMostCurvePoints

 private:
  // The samples that bound one run.
  struct Bucket final {
    CycleSample coldest, hottest;
    std::optional<CycleSample> lowest, highest;  // by pressure

    explicit Bucket(const CycleSample& only);
    void take(const Bucket& other);
  };
  static constexpr std::size_t kPointsPerBucket = 4;
  static constexpr std::size_t kMostBuckets = (kMostCurvePoints - 2) / kPointsPerBucket / 2 * 2;

  void join_neighbours();

  std::vector<Bucket> buckets_;
  std::size_t samples_per_bucket_ = 1;
  std::size_t in_last_ = 0;
  std::optional<CycleSample> first_;
  CycleSample last_;
};

}  // namespace loadlight::core
