#include "web/serving.h"

#include "web/copy_keeper.h"
#include "web/desk.h"
#include "web/lan_place.h"
#include "web/listener.h"
#include "web/station.h"

namespace loadlight::web {
namespace {

using core::Result;

class StationServing final : public Serving {
 public:
  StationServing(std::unique_ptr<Desk> desk, const app::StationSettings& settings)
      : desk_(std::move(desk)), station_(*desk_) {
    if (is_shared()) keeper_ = std::make_unique<CopyKeeper>([this] { return desk_->office(); }, settings.settled);
    options_.port = settings.port;
    options_.every_address = settings.lan;
  }

  // Yields the address to go to.
  Result<std::string> listen();

 private:
  Result<port::StationCertificates> certificates() const;
  // An office in a folder has its files there.
  bool is_shared() const { return desk_->world().files_of(desk_->office_folder()) != desk_->office_folder(); }

  std::unique_ptr<Desk> desk_;
  Station station_;
  ListenerOptions options_;  // the listener reads its certificate and key as long as it lives
  std::unique_ptr<CopyKeeper> keeper_;
  std::unique_ptr<Listener> listener_;  // last: it calls the station
};

// They bear the office's name, so there must be an office.
Result<port::StationCertificates> StationServing::certificates() const {
  const auto office = desk_->office();
  if (!office) return office.failure();
  const auto unit = (*office)->ports.store.begin(port::Access::Read);
  if (!unit) return unit.failure();
  const auto settings = (*unit)->office();
  if (!settings) return settings.failure();
  return desk_->world().open_certificates(desk_->office_folder(), settings->name);
}

Result<std::string> StationServing::listen() {
  LanAddress lan;
  std::vector<std::string> addresses{"127.0.0.1"};
  if (options_.every_address) {
    const auto made = certificates();
    if (!made) return made.failure();
    options_.tls = TlsFiles{made->chain, made->key};
    lan.authority = made->authority;
    lan.fingerprint = made->fingerprint;
    addresses = made->addresses;
  }
  auto listener = web::listen(options_, station_);
  if (!listener) return listener.failure();
  listener_ = std::move(*listener);
  const std::string scheme = options_.tls ? "https://" : "http://";
  for (const std::string& address : addresses) {
    lan.urls.push_back(scheme + address + ":" + std::to_string(listener_->port()) + "/");
  }
  const std::string url = lan.urls.front();
  if (options_.tls) desk_->kept<LanPlace>().set(std::move(lan));
  return url;
}

}  // namespace

Result<std::unique_ptr<Serving>> start_serving(const app::World& world, const app::StationSettings& settings) {
  auto desk = Desk::open(world, settings.office_folder);
  if (!desk) return desk.failure();
  auto serving = std::make_unique<StationServing>(std::move(*desk), settings);
  const auto url = serving->listen();
  if (!url) return url.failure();
  if (settings.listening) settings.listening(*url);
  return std::unique_ptr<Serving>{std::move(serving)};
}

}  // namespace loadlight::web
