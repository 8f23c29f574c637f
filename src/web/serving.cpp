#include "web/serving.h"

#include "web/desk.h"
#include "web/listener.h"
#include "web/station.h"

namespace loadlight::web {
namespace {

using core::Result;

class StationServing final : public Serving {
 public:
  explicit StationServing(std::unique_ptr<Desk> desk) : desk_(std::move(desk)), station_(*desk_) {}

  Result<std::string> listen(const ListenerOptions& options) {
    auto listener = web::listen(options, station_);
    if (!listener) return listener.failure();
    listener_ = std::move(*listener);
    const std::string scheme = options.tls ? "https" : "http";
    return scheme + "://127.0.0.1:" + std::to_string(listener_->port()) + "/";
  }

 private:
  std::unique_ptr<Desk> desk_;
  Station station_;
  std::unique_ptr<Listener> listener_;  // last: it calls the station
};

}  // namespace

Result<std::unique_ptr<Serving>> start_serving(const app::World& world, const app::StationSettings& settings) {
  auto desk = Desk::open(world, settings.office_folder);
  if (!desk) return desk.failure();
  auto serving = std::make_unique<StationServing>(std::move(*desk));
  const auto url = serving->listen({.port = settings.port, .every_address = settings.lan, .tls = {}});
  if (!url) return url.failure();
  if (settings.listening) settings.listening(*url);
  return std::unique_ptr<Serving>{std::move(serving)};
}

}  // namespace loadlight::web
