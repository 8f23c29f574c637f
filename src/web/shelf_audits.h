// The audits of shelves that this station runs, each in a thread of its own, and what the newest of them found.
#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include "loadlight/app/audit_shelf.h"
#include "loadlight/app/open_office.h"
#include "web/http_message.h"
#include "web/posted_frames.h"

namespace loadlight::web {

struct AuditPlan final {
  std::shared_ptr<app::OpenOffice> office;
  app::AuditEyes eyes;                        // must outlive the audit
  app::AuditRequest request;                  // without what it calls
  std::unique_ptr<port::FrameSource> frames;  // of a video; without one, frames are posted
  std::shared_ptr<UploadedFile> upload;       // that the video is in
};

class ShelfAudit final {
 public:
  using Time = std::chrono::steady_clock::time_point;
  enum class Wish { GoOn, Finish, Later };

  ShelfAudit(std::string name, AuditPlan plan);
  ~ShelfAudit();  // what was still going on is left to be resumed

  const std::string& name() const { return name_; }  // in addresses
  const std::string& key() const { return key_; }    // whoever began it posts its frames, and nobody else
  const std::string& location() const { return request_.location; }
  const std::string& source() const { return request_.source; }
  const std::string& operator_code() const { return request_.operator_code; }
  const std::shared_ptr<UploadedFile>& upload() const { return upload_; }
  bool takes_frames() const { return posted_ != nullptr; }

  // The audit's own name, once it stands in the ledger; or why it never began.
  core::Result<std::string> begun() const;
  // Where the audit stands once this frame was looked at. JobUnknown after its end, TooManyRequests when it is
  // behind.
  core::Result<app::AuditProgress> post(port::GrayPicture picture, const std::string& file = {});
  void wish(Wish wish);

  app::AuditProgress progress() const;
  bool over() const;
  Time over_since() const;
  // Null until it is over, and when it never began.
  std::shared_ptr<const app::AuditReply> reply() const;
  // Waits for its end, at most so long.
  void wait_over(std::chrono::milliseconds longest) const;

 private:
  void run();
  void settle(core::Result<app::AuditReply> reply);
  app::AuditStep told(const app::AuditProgress& progress);

  const std::string name_;
  const std::string key_;
  const std::shared_ptr<app::OpenOffice> office_;
  const app::AuditEyes eyes_;
  app::AuditRequest request_;
  const std::shared_ptr<UploadedFile> upload_;
  const std::unique_ptr<port::FrameSource> frames_;
  PostedFrames* posted_ = nullptr;  // frames_, where frames are posted

  mutable std::mutex mutex_;  // of what follows
  mutable std::condition_variable changed_;
  std::string audit_;
  app::AuditProgress progress_;
  Wish wish_ = Wish::GoOn;
  bool over_ = false;
  Time over_since_{};
  std::optional<core::Failure> failure_;
  std::shared_ptr<const app::AuditReply> reply_;
  std::thread thread_;  // last: it uses all the others
};

class ShelfAudits final {
 public:
  static constexpr std::size_t kMostRunning = 6;
  // Of those that are over. Bytes are those of pictures.
  static constexpr std::size_t kMostKept = 12;
  static constexpr std::size_t kMostKeptBytes = 128u << 20;

  // TooManyRequests when so many run already; SweepGoesOn when what is to be resumed still runs here.
  core::Result<std::shared_ptr<ShelfAudit>> begin(AuditPlan plan);
  std::shared_ptr<ShelfAudit> find(std::string_view name) const;  // null if there is none
  std::vector<std::shared_ptr<ShelfAudit>> all() const;           // newest first

 private:
  void forget_oldest();

  mutable std::mutex mutex_;
  std::vector<std::shared_ptr<ShelfAudit>> audits_;  // newest last
};

}  // namespace loadlight::web
