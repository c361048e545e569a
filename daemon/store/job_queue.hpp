// The bounded queue before the writer. Any thread puts, the writer takes all that waits at once.
#pragma once

#include <condition_variable>
#include <mutex>
#include <optional>
#include <vector>

#include "daemon/store/jobs.hpp"

namespace rindwatch {

class JobQueue {
 public:
  explicit JobQueue(std::size_t bound) : bound_(bound) {}

  // Waits for room. False: no room until the deadline, or closed.
  bool PutUntil(Job job, SteadyTime deadline);
  // Never waits. False: no room for a write, or closed; then `job` is untouched.
  bool Put(Job& job);

  // Waits until something is there, the deadline passes (none: never) or the queue is closed; then empties it.
  std::vector<Job> TakeAll(std::optional<SteadyTime> deadline);
  // Nothing enters any more; what waits can still be taken.
  void Close();
  bool Closed() const;
  std::size_t Size() const;

 private:
  bool HasRoom() const { return writes_ < bound_; }
  void Insert(Job job);

  const std::size_t bound_;
  mutable std::mutex mutex_;
  std::condition_variable filled_;   // the writer waits
  std::condition_variable emptied_;  // who puts waits
  std::vector<Job> jobs_;            // guarded by mutex_
  std::size_t writes_ = 0;           // guarded by mutex_: of jobs_
  bool closed_ = false;              // guarded by mutex_
};

}  // namespace rindwatch
