#include "daemon/store/reader.hpp"

#include <utility>

namespace rindwatch {

Reader::Reader(const std::string& path) : database_(path, sqlite::Database::Access::kReadOnly) {}

void Reader::Start() {
  thread_ = std::thread([this] { Run(); });
}

void Reader::Ask(Task task) {
  const std::lock_guard lock(mutex_);
  if (stopping_) return;
  tasks_.push_back(std::move(task));
  filled_.notify_one();
}

void Reader::Stop() {
  {
    const std::lock_guard lock(mutex_);
    stopping_ = true;
    tasks_.clear();
    filled_.notify_one();
  }
  database_.Interrupt();
  if (thread_.joinable()) thread_.join();
}

void Reader::Run() {
  for (;;) {
    std::unique_lock lock(mutex_);
    filled_.wait(lock, [&] { return stopping_ || !tasks_.empty(); });
    if (stopping_) return;
    const Task task = std::move(tasks_.front());
    tasks_.pop_front();
    lock.unlock();
    task(database_);
  }
}

}  // namespace rindwatch
