#include "web/shelf_audits.h"

#include <algorithm>
#include <exception>
#include <utility>

#include "web/secrets.h"

namespace loadlight::web {
namespace {

using core::Failure;
using core::FailureCode;
using core::Result;

constexpr std::chrono::seconds kSenderGone{20};
constexpr std::chrono::seconds kFrameAnswered{3};

// Nobody at the station knows the place where an upload lies; they know what they sent.
Failure named_by(Failure failure, const std::string& source) {
  for (auto& [name, value] : failure.details) {
    if (name == "path") value = source;
  }
  return failure;
}

std::unique_ptr<port::FrameSource> frames_or_post(std::unique_ptr<port::FrameSource> frames) {
  if (frames) return frames;
  return std::make_unique<PostedFrames>(kSenderGone);
}

std::size_t picture_bytes(const app::AuditReply& reply) {
  std::size_t bytes = 0;
  for (const app::SweepPicture& picture : reply.pictures) bytes += picture.jpeg.size();
  for (const app::UnreadableSymbol& symbol : reply.unreadable) bytes += symbol.jpeg.size();
  return bytes;
}

}  // namespace

ShelfAudit::ShelfAudit(std::string name, AuditPlan plan)
    : name_(std::move(name)),
      key_(random_name()),
      office_(std::move(plan.office)),
      eyes_(plan.eyes),
      request_(std::move(plan.request)),
      upload_(std::move(plan.upload)),
      frames_(frames_or_post(std::move(plan.frames))),
      posted_(dynamic_cast<PostedFrames*>(frames_.get())) {
  request_.begun = [this](const std::string& audit) {
    const std::lock_guard lock{mutex_};
    audit_ = audit;
    changed_.notify_all();
  };
  request_.tell = [this](const app::AuditProgress& progress) { return told(progress); };
  thread_ = std::thread{[this] { run(); }};
}

ShelfAudit::~ShelfAudit() {
  wish(Wish::Later);
  thread_.join();
}

void ShelfAudit::run() {
  try {
    settle(app::audit_shelf(office_->ports, eyes_, *frames_, request_));
  } catch (const std::exception& error) {
    settle(Failure{FailureCode::Internal, {{"why", error.what()}}, {}});
  }
}

void ShelfAudit::settle(Result<app::AuditReply> reply) {
  const std::lock_guard lock{mutex_};
  over_ = true;
  over_since_ = std::chrono::steady_clock::now();
  if (!reply) {
    failure_ = named_by(reply.failure(), request_.source);
  } else {
    // Whoever asked for the end is not told that no picture comes any more.
    const bool as_wished = wish_ == Wish::Later && reply->trouble && reply->trouble->code == FailureCode::SweepCutOff;
    if (as_wished) reply->trouble.reset();
    if (reply->trouble) reply->trouble = named_by(*reply->trouble, request_.source);
    reply_ = std::make_shared<const app::AuditReply>(std::move(*reply));
  }
  changed_.notify_all();
}

app::AuditStep ShelfAudit::told(const app::AuditProgress& progress) {
  const std::lock_guard lock{mutex_};
  progress_ = progress;
  changed_.notify_all();
  switch (wish_) {
    case Wish::GoOn:
      break;
    case Wish::Finish:
      // What was posted before the wish is still looked at.
      return posted_ ? app::AuditStep::GoOn : app::AuditStep::Finish;
    case Wish::Later:
      return app::AuditStep::Interrupt;
  }
  return app::AuditStep::GoOn;
}

Result<std::string> ShelfAudit::begun() const {
  std::unique_lock lock{mutex_};
  changed_.wait(lock, [this] { return !audit_.empty() || over_; });
  if (failure_) return *failure_;
  return audit_;
}

Result<app::AuditProgress> ShelfAudit::post(port::GrayPicture picture, const std::string& file) {
  const Failure ended{FailureCode::JobUnknown, {}, {}};
  if (!posted_ || over()) return ended;
  const auto number = posted_->put(std::move(picture), file);
  if (!number) return over() ? ended : Failure{FailureCode::TooManyRequests, {}, {}};
  std::unique_lock lock{mutex_};
  changed_.wait_for(lock, kFrameAnswered, [&] { return over_ || progress_.frame >= *number; });
  return progress_;
}

void ShelfAudit::wish(Wish wish) {
  {
    const std::lock_guard lock{mutex_};
    if (wish_ == Wish::GoOn) wish_ = wish;
  }
  if (!posted_ || wish == Wish::GoOn) return;
  wish == Wish::Finish ? posted_->finish() : posted_->drop();
}

app::AuditProgress ShelfAudit::progress() const {
  const std::lock_guard lock{mutex_};
  return progress_;
}

bool ShelfAudit::over() const {
  const std::lock_guard lock{mutex_};
  return over_;
}

ShelfAudit::Time ShelfAudit::over_since() const {
  const std::lock_guard lock{mutex_};
  return over_since_;
}

std::shared_ptr<const app::AuditReply> ShelfAudit::reply() const {
  const std::lock_guard lock{mutex_};
  return reply_;
}

void ShelfAudit::wait_over(std::chrono::milliseconds longest) const {
  std::unique_lock lock{mutex_};
  changed_.wait_for(lock, longest, [this] { return over_; });
}

Result<std::shared_ptr<ShelfAudit>> ShelfAudits::begin(AuditPlan plan) {
  const std::lock_guard lock{mutex_};
  const auto running = std::count_if(audits_.begin(), audits_.end(), [](const auto& audit) { return !audit->over(); });
  if (running >= static_cast<std::ptrdiff_t>(kMostRunning)) return Failure{FailureCode::TooManyRequests, {}, {}};
  const bool goes_on = std::any_of(audits_.begin(), audits_.end(), [&](const auto& audit) {
    return !audit->over() && audit->location() == plan.request.location && audit->source() == plan.request.source;
  });
  if (plan.request.resume && goes_on) {
    return Failure{FailureCode::SweepGoesOn, {{"location", plan.request.location}}, {}};
  }
  forget_oldest();
  audits_.push_back(std::make_shared<ShelfAudit>(random_name(), std::move(plan)));
  return audits_.back();
}

// One place is kept free for what begins now.
void ShelfAudits::forget_oldest() {
  std::size_t kept = 1, bytes = 0;
  for (std::size_t i = audits_.size(); i-- > 0;) {
    if (!audits_[i]->over()) continue;
    const auto reply = audits_[i]->reply();
    bytes += reply ? picture_bytes(*reply) : 0;
    if (++kept <= kMostKept && bytes <= kMostKeptBytes) continue;
    audits_.erase(audits_.begin() + static_cast<std::ptrdiff_t>(i));
  }
}

std::shared_ptr<ShelfAudit> ShelfAudits::find(std::string_view name) const {
  const std::lock_guard lock{mutex_};
  const auto found =
      std::find_if(audits_.begin(), audits_.end(), [name](const auto& audit) { return audit->name() == name; });
  return found == audits_.end() ? nullptr : *found;
}

std::vector<std::shared_ptr<ShelfAudit>> ShelfAudits::all() const {
  const std::lock_guard lock{mutex_};
  return {audits_.rbegin(), audits_.rend()};
}

}  // namespace loadlight::web
