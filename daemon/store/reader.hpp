// The reader thread: one read-only connection for history and pages, so that a long scan keeps nobody from writing.
// It talks to nobody but through `post`; it never writes.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

#include "daemon/store/sqlite/database.hpp"

namespace rindwatch {

class Reader {
 public:
  using Task = std::function<void(sqlite::Database&)>;

  // Opens the connection; the file must exist. Throws DatabaseError.
  explicit Reader(const std::string& path);
  ~Reader() { Stop(); }
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;

  void Start();
  // Runs `task` in the reader's thread. How many may wait is bounded by who asks: each open request asks once.
  void Ask(Task task);
  // Interrupts what runs, forgets what waits, ends the thread. Twice is harmless.
  void Stop();

 private:
  void Run();

  sqlite::Database database_;  // the thread's, once it runs
  std::mutex mutex_;
  std::condition_variable filled_;
  std::deque<Task> tasks_;  // guarded by mutex_
  bool stopping_ = false;   // guarded by mutex_
  std::thread thread_;
};

}  // namespace rindwatch
