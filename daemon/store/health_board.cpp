#include "daemon/store/health_board.hpp"

namespace rindwatch {

void HealthBoard::OnKept(std::int64_t readings, std::int64_t lines) {
  const std::lock_guard lock(mutex_);
  health_.readings_kept += readings;
  health_.lines_kept += lines;
}

void HealthBoard::OnWriting() {
  const std::lock_guard lock(mutex_);
  health_.writing = true;
  health_.why.clear();
}

void HealthBoard::OnFailed(const std::string& why) {
  const std::lock_guard lock(mutex_);
  health_.writing = false;
  health_.why = why;
}

void HealthBoard::OnRefused(std::int64_t count) {
  const std::lock_guard lock(mutex_);
  health_.refused += count;
}

void HealthBoard::OnSize(std::int64_t bytes) {
  const std::lock_guard lock(mutex_);
  health_.bytes = bytes;
}

StoreHealth HealthBoard::Read() const {
  const std::lock_guard lock(mutex_);
  return health_;
}

std::string HealthBoard::Why() const {
  const std::lock_guard lock(mutex_);
  return health_.why;
}

}  // namespace rindwatch
