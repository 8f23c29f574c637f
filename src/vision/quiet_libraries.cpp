#include "vision/quiet_libraries.h"

#include <fcntl.h>
#include <unistd.h>

#include <mutex>
#include <opencv2/core/utils/logger.hpp>

namespace loadlight::vision {
namespace {

std::mutex guard;
int living = 0;        // guarded by `guard`
int kept_stderr = -1;  // guarded by `guard`; what descriptor 2 was

void lead_nowhere() {
  kept_stderr = fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 3);
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  if (kept_stderr >= 0 && nowhere >= 0) dup2(nowhere, STDERR_FILENO);
  if (nowhere >= 0) close(nowhere);
}

void lead_back() {
  if (kept_stderr < 0) return;
  dup2(kept_stderr, STDERR_FILENO);
  close(kept_stderr);
  kept_stderr = -1;
}

}  // namespace

QuietLibraries::QuietLibraries() {
  cv::utils::logging::setLogLevel(cv::utils::logging::LOG_LEVEL_SILENT);
  const std::lock_guard lock(guard);
  if (living++ == 0) lead_nowhere();
}

QuietLibraries::~QuietLibraries() {
  const std::lock_guard lock(guard);
  if (--living == 0) lead_back();
}

}  // namespace loadlight::vision
