#include "daemon/replay/runner.hpp"

#include <spdlog/spdlog.h>

#include <memory>
#include <utility>

namespace rindwatch {
namespace {

constexpr std::size_t kMostWaiting = 8;

}  // namespace

ReplayRunner::ReplayRunner(std::string database, rules::DayTurn home, Post post)
    : database_(std::move(database)), home_(std::move(home)), post_(std::move(post)), thread_([this] { Run(); }) {}

ReplayRunner::~ReplayRunner() {
  stop_ = true;
  {
    const std::lock_guard lock(mutex_);
    tasks_.clear();
    filled_.notify_one();
  }
  thread_.join();
}

bool ReplayRunner::Ask(ReplayCall call, Done done) {
  return Put([this, call = std::move(call), done = std::move(done)] {
    Answer answer;
    try {
      answer.report = Replay(database_, home_, call, stop_);
    } catch (const std::exception& error) {
      answer.why = error.what();
      if (!stop_) spdlog::error("What was kept could not be replayed: {}", answer.why);
    }
    post_([done, answer = std::move(answer)] { done(answer); });
  });
}

bool ReplayRunner::Put(Task task) {
  const std::lock_guard lock(mutex_);
  if (stop_ || tasks_.size() >= kMostWaiting) return false;
  tasks_.push_back(std::move(task));
  filled_.notify_one();
  return true;
}

void ReplayRunner::Run() {
  for (;;) {
    std::unique_lock lock(mutex_);
    filled_.wait(lock, [&] { return stop_ || !tasks_.empty(); });
    if (stop_) return;
    const Task task = std::move(tasks_.front());
    tasks_.pop_front();
    lock.unlock();
    task();
  }
}

}  // namespace rindwatch
