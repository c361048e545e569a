// The one owner of the Asio timer behind all schedules. Lives in the loop's thread; tests and a lived past call
// RunDue after they stepped the clock.
#pragma once

#include <boost/asio/io_context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <functional>
#include <map>
#include <optional>
#include <string>

#include "rules/clock.hpp"

namespace rindwatch {

class Scheduler {
 public:
  using Task = std::function<void()>;

  Scheduler(boost::asio::io_context& loop, const rules::Clock& clock);

  // Runs `task` once, at or after `at` by the clock. The same name again replaces what waits under it.
  void WakeAt(const std::string& name, rules::Instant at, Task task);
  void Forget(const std::string& name);
  // Runs what is due, in the order of instants.
  void RunDue();
  // What waits first; none: nothing waits.
  std::optional<rules::Instant> Next() const;
  // From now on nothing wakes by itself.
  void Stop();

 private:
  struct Waiting {
    rules::Instant at;
    Task task;
  };
  void Arm();

  boost::asio::steady_timer timer_;
  const rules::Clock& clock_;
  std::map<std::string, Waiting> waiting_;
  bool armed_ = false;  // the timer runs
  bool stopped_ = false;
};

}  // namespace rindwatch
