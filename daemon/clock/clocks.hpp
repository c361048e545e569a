// The clocks behind rules::Clock: the machine's, a scaled one for a trial, a stepped one for a past that is lived
// without waiting and for tests.
#pragma once

#include <chrono>
#include <functional>
#include <mutex>
#include <optional>
#include <string>

#include "rules/clock.hpp"

namespace rindwatch {

class RealClock : public rules::Clock {
 public:
  rules::Instant Wall() const override;
  rules::Millis Monotonic() const override;
};

// A clock that shows less than what was kept last, by more than this, is not right, or was not.
inline constexpr rules::Millis kClockSlack = std::chrono::minutes{2};
// One that was ahead by less is waited for.
inline constexpr rules::Millis kSoonMadeUp = std::chrono::minutes{15};

// One that went back is believed once it stays back for so long: whoever sets a clock by hand may err once more.
inline constexpr rules::Millis kStaysBack = std::chrono::minutes{5};

// Whether this machine's clock was set by the network since it was switched on: the mark that the system's own time
// service leaves. False where another service sets it.
bool IsSetByNetwork(const std::string& mark = "/run/systemd/timesync/synchronized");

// Stands still until told; `Run` lets it go at `speed` seconds a second from where it stands.
class TrialClock : public rules::Clock {
 public:
  // The machine's monotonic time.
  using Machine = std::function<std::chrono::nanoseconds()>;

  explicit TrialClock(rules::Instant start);
  TrialClock(rules::Instant start, Machine machine);

  rules::Instant Wall() const override;
  rules::Millis Monotonic() const override;
  double Speed() const override;

  // Only while it stands; never back.
  void StepTo(rules::Instant at);
  void Run(double speed);
  // It stands when it comes to `at`, until a later instant is given here; for how long it stood is not made up for.
  void StandAt(rules::Instant at);

 private:
  std::chrono::nanoseconds SinceStart() const;  // of this clock; under the mutex

  mutable std::mutex mutex_;
  const rules::Instant start_;
  const Machine machine_;
  std::chrono::nanoseconds stepped_{0};            // from start_ to where it stands or was last set going
  double speed_ = 0;                               // 0: stands
  std::chrono::nanoseconds ran_from_{0};           // the machine's time then
  std::optional<std::chrono::nanoseconds> stand_;  // from start_; none: nothing holds it
};

}  // namespace rindwatch
