// The clocks behind rules::Clock: the machine's, a scaled one for a trial, a stepped one for a past that is lived
// without waiting and for tests.
#pragma once

#include <atomic>
#include <mutex>

#include "rules/clock.hpp"

namespace rindwatch {

class RealClock : public rules::Clock {
 public:
  rules::Instant Wall() const override;
  rules::Millis Monotonic() const override;
};

// Stands still until told; `Run` lets it go at `speed` seconds a second from where it stands.
class TrialClock : public rules::Clock {
 public:
  explicit TrialClock(rules::Instant start);

  rules::Instant Wall() const override;
  rules::Millis Monotonic() const override;
  double Speed() const override;

  // Only while it stands; never back.
  void StepTo(rules::Instant at);
  void Run(double speed);

 private:
  rules::Millis SinceStart() const;  // of this clock

  mutable std::mutex mutex_;
  const rules::Instant start_;
  rules::Millis stepped_{0};   // from start_ to where it stands or began to run
  double speed_ = 0;           // 0: stands
  rules::Millis ran_from_{0};  // the machine's monotonic clock at Run
};

}  // namespace rindwatch
