// Answers every request: finds the route, sees who asks and whether they may, and has the page answer.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <string>

#include "web/desk.h"
#include "web/http_message.h"
#include "web/routes.h"

namespace loadlight::web {

// How often one address may ask: a bucket that fills steadily.
class RequestMeter final {
 public:
  static constexpr double kPerSecond = 150;
  static constexpr double kBurst = 400;
  bool admits(const std::string& peer, std::chrono::steady_clock::time_point now);

 private:
  struct Bucket final {
    double left = kBurst;
    std::chrono::steady_clock::time_point seen{};
  };
  std::mutex mutex_;
  std::map<std::string, Bucket> buckets_;
};

class Station final : public Answerer {
 public:
  explicit Station(Desk& desk) : desk_(desk) {}

  BodyPlan plan(const RequestHead& head) override;
  Response answer(const Request& request) override;
  Response refuse(const RequestHead& head, int status) override;

 private:
  Visit visit_of(const Request& request, Touch touch = Touch::ByItself);
  Response admitted(Visit& visit, const Route& route);
  Response posted(Visit& visit, const Route& route);
  std::optional<core::Failure> hindrance_of_upload(const RequestHead& head, const Route& route);
  std::optional<core::Failure> hindrance(const Visit& visit, const Route& route);

  Desk& desk_;
  RequestMeter meter_;
};

}  // namespace loadlight::web
