#include "daemon/store/waiting_batch.hpp"

namespace rindwatch {

std::optional<sensors::KeepResult> WaitingBatch::WaitUntil(SteadyTime deadline) {
  std::unique_lock lock(mutex_);
  if (answered_.wait_until(lock, deadline, [&] { return result_.has_value(); })) return std::move(result_);
  given_up_ = true;
  return std::nullopt;
}

bool WaitingBatch::Begin() const {
  const std::lock_guard lock(mutex_);
  return !given_up_;
}

bool WaitingBatch::Answer(sensors::KeepResult result) {
  const std::lock_guard lock(mutex_);
  if (given_up_) return false;
  result_ = std::move(result);
  answered_.notify_one();
  return true;
}

}  // namespace rindwatch
