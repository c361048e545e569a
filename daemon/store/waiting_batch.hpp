// A batch on its way from the thread that keeps it to the writer, and the answer on its way back. Shared by both, so
// that whoever leaves first leaves nothing dangling.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <optional>

#include "sensors/sink.hpp"

namespace rindwatch {

// Real time: how long a broker's thread may stand still is no matter of the watch's clock.
using SteadyTime = std::chrono::steady_clock::time_point;

class WaitingBatch {
 public:
  explicit WaitingBatch(sensors::Batch given) : batch(std::move(given)) {}

  // ---- the keeping thread ----
  // Waits for the answer. None: it did not come in time and the writer was told; the batch may still be written if
  // the writer had begun with it.
  std::optional<sensors::KeepResult> WaitUntil(SteadyTime deadline);

  // ---- the writer ----
  // False: nobody waits any more, the batch must not be written. Asked once the write can begin.
  bool Begin() const;
  // False: the keeping thread has left without this answer.
  bool Answer(sensors::KeepResult result);

  const sensors::Batch batch;

 private:
  mutable std::mutex mutex_;
  std::condition_variable answered_;
  std::optional<sensors::KeepResult> result_;  // guarded by mutex_
  bool given_up_ = false;                      // guarded by mutex_
};

}  // namespace rindwatch
