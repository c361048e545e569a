// Replays for the page, in a thread of their own: one at a time, a few may wait. Made and asked in the loop's thread;
// answers are posted back to it. A runner that ends stops what runs and forgets what waits.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

#include "daemon/replay/replay.hpp"

namespace rindwatch {

class ReplayRunner {
 public:
  using Post = std::function<void(std::function<void()>)>;
  struct Answer {
    std::optional<ReplayReport> report;
    std::string why;  // without one: a sentence for the keeper
  };
  using Done = std::function<void(Answer)>;

  ReplayRunner(std::string database, rules::DayTurn home, Post post);
  ~ReplayRunner();
  ReplayRunner(const ReplayRunner&) = delete;
  ReplayRunner& operator=(const ReplayRunner&) = delete;

  // False: too many wait; nothing will come.
  bool Ask(ReplayCall call, Done done);

 private:
  using Task = std::function<void()>;
  bool Put(Task task);
  void Run();

  const std::string database_;
  const rules::DayTurn home_;
  const Post post_;
  std::atomic<bool> stop_{false};
  std::mutex mutex_;
  std::condition_variable filled_;
  std::deque<Task> tasks_;  // guarded by mutex_
  std::thread thread_;
};

}  // namespace rindwatch
