// The cameras that are held over packages right now, each with verdicts that hold still from frame to frame.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "loadlight/app/open_office.h"
#include "loadlight/app/watch_packages.h"

namespace loadlight::web {

// A package in view: where it is, and its verdict once there is one that may be shown.
struct InView final {
  label::Quad corners{};
  std::string read;  // its symbol's text
  std::optional<app::CheckReply> reply;
  bool is_new = false;  // its verdict is shown with this frame for the first time, or has changed
};

class ChairCameras final {
 public:
  using Time = app::PackageWatch::Time;
  static constexpr std::size_t kMost = 40;  // at once; whoever was idle longest goes first

  // What a frame of this camera shows. `camera` is a name that a page chose for itself.
  std::vector<InView> see(const std::string& camera, const std::shared_ptr<app::OpenOffice>& office,
                          const app::CheckRequest& request, Time now);

 private:
  struct Camera final {
    Camera(std::shared_ptr<app::OpenOffice> open, app::CheckRequest request)
        : office(std::move(open)), operator_code(request.operator_code), watch(office->ports, std::move(request)) {}
    std::mutex mutex;
    std::shared_ptr<app::OpenOffice> office;
    std::string operator_code;
    app::PackageWatch watch;
    struct Shown final {
      app::CheckReply reply;
      Time seen{};
    };
    std::map<std::string, Shown> shown;  // by text
  };
  struct Place final {
    std::shared_ptr<Camera> camera;
    Time seen{};
  };

  std::shared_ptr<Camera> camera_of(const std::string& name, const std::shared_ptr<app::OpenOffice>& office,
                                    const app::CheckRequest& request, Time now);

  std::mutex mutex_;
  std::map<std::string, Place> cameras_;
};

}  // namespace loadlight::web
