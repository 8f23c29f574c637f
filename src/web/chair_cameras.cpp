#include "web/chair_cameras.h"

#include <algorithm>

namespace loadlight::web {

std::shared_ptr<ChairCameras::Camera> ChairCameras::camera_of(const std::string& name,
                                                              const std::shared_ptr<app::OpenOffice>& office,
                                                              const app::CheckRequest& request, Time now) {
  const std::lock_guard lock{mutex_};
  Place& place = cameras_[name];
  // Another office, or another person: nothing that was agreed on before counts.
  const bool same = place.camera && place.camera->office == office &&
                    place.camera->operator_code == request.operator_code;
  if (!same) place.camera = std::make_shared<Camera>(office, app::CheckRequest{{}, request.operator_code, request.find_template});
  place.seen = now;
  const auto camera = place.camera;
  if (cameras_.size() > kMost) {
    cameras_.erase(std::min_element(cameras_.begin(), cameras_.end(), [](const auto& a, const auto& b) {
      return a.second.seen < b.second.seen;
    }));
  }
  return camera;
}

std::vector<InView> ChairCameras::see(const std::string& name, const std::shared_ptr<app::OpenOffice>& office,
                                      const app::CheckRequest& request, Time now) {
  const auto camera = camera_of(name, office, request, now);
  const std::lock_guard lock{camera->mutex};
  const auto replies = camera->watch.see(request.items, now);
  std::erase_if(camera->shown, [now](const auto& entry) {
    return now - entry.second.seen > app::PackageWatch::kGoneAfter;
  });
  for (const app::CheckReply& reply : replies) camera->shown.insert_or_assign(reply.read, Camera::Shown{reply, now});
  std::vector<InView> in_view;
  for (const app::CheckItem& item : request.items) {
    InView each{item.corners.value_or(label::Quad{}), item.text, std::nullopt, false};
    if (const auto shown = camera->shown.find(item.text); shown != camera->shown.end()) {
      shown->second.seen = now;
      each.reply = shown->second.reply;
      each.is_new = std::any_of(replies.begin(), replies.end(),
                                [&](const app::CheckReply& reply) { return reply.read == item.text; });
    }
    in_view.push_back(std::move(each));
  }
  return in_view;
}

}  // namespace loadlight::web
