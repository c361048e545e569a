#include "daemon/store/job_queue.hpp"

#include <utility>

namespace rindwatch {

void JobQueue::Insert(Job job) {
  if (IsWrite(job)) ++writes_;
  jobs_.push_back(std::move(job));
  filled_.notify_one();
}

bool JobQueue::PutUntil(Job job, SteadyTime deadline) {
  std::unique_lock lock(mutex_);
  if (!emptied_.wait_until(lock, deadline, [&] { return closed_ || HasRoom(); }) || closed_) return false;
  Insert(std::move(job));
  return true;
}

bool JobQueue::Put(Job& job) {
  const std::lock_guard lock(mutex_);
  if (closed_ || (IsWrite(job) && !HasRoom())) return false;
  Insert(std::move(job));
  return true;
}

std::vector<Job> JobQueue::TakeAll(std::optional<SteadyTime> deadline) {
  std::unique_lock lock(mutex_);
  const auto ready = [&] { return closed_ || !jobs_.empty(); };
  if (deadline)
    filled_.wait_until(lock, *deadline, ready);
  else
    filled_.wait(lock, ready);
  writes_ = 0;
  emptied_.notify_all();
  return std::exchange(jobs_, {});
}

void JobQueue::Close() {
  const std::lock_guard lock(mutex_);
  closed_ = true;
  filled_.notify_all();
  emptied_.notify_all();
}

bool JobQueue::Closed() const {
  const std::lock_guard lock(mutex_);
  return closed_;
}

std::size_t JobQueue::Size() const {
  const std::lock_guard lock(mutex_);
  return jobs_.size();
}

}  // namespace rindwatch
