// The one source of time. Real, scaled (start and speed, for a trial) and stepped (tests) live in the daemon.
#pragma once

#include "rules/time.hpp"

namespace rindwatch::rules {

// Safe to ask from any thread.
class Clock {
 public:
  virtual ~Clock() = default;
  // UTC by the wall; may jump.
  virtual Instant Wall() const = 0;
  // Never jumps; counts in the same (perhaps scaled) seconds as Wall.
  virtual Millis Monotonic() const = 0;
  // Seconds of this clock in a second of the world; 1 unless scaled.
  virtual double Speed() const { return 1.0; }
};

}  // namespace rindwatch::rules
