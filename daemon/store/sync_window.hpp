// How much a power cut may take: says when what was committed without a sync must be synced. A value.
#pragma once

#include <algorithm>
#include <optional>

#include "daemon/store/waiting_batch.hpp"

namespace rindwatch {

class SyncWindow {
 public:
  explicit SyncWindow(std::chrono::milliseconds window) : window_(window) {}

  // Readings were committed at `now`, not synced.
  void OnUnsynced(SteadyTime now) {
    if (!oldest_) oldest_ = now;
  }
  // Everything committed is on disk.
  void OnSynced() {
    oldest_.reset();
    not_before_ = {};
  }
  // The sync failed at `now`: try again a little later, not at once.
  void OnFailed(SteadyTime now) {
    OnUnsynced(now);
    not_before_ = now + kRetry;
  }

  // When the oldest unsynced reading has to be on disk; none: all is.
  std::optional<SteadyTime> Deadline() const {
    if (!oldest_) return std::nullopt;
    return std::max(*oldest_ + window_, not_before_);
  }
  bool IsDue(SteadyTime now) const { return oldest_ && now >= *Deadline(); }

 private:
  static constexpr std::chrono::seconds kRetry{5};

  std::chrono::milliseconds window_;
  std::optional<SteadyTime> oldest_;
  SteadyTime not_before_{};
};

}  // namespace rindwatch
