#include "daemon/clock/clocks.hpp"

#include <algorithm>
#include <chrono>
#include <stdexcept>

namespace rindwatch {

using rules::Instant;
using rules::Millis;

namespace {
Millis MachineMonotonic() {
  return std::chrono::duration_cast<Millis>(std::chrono::steady_clock::now().time_since_epoch());
}
}  // namespace

Instant RealClock::Wall() const { return std::chrono::floor<Millis>(std::chrono::system_clock::now()); }
Millis RealClock::Monotonic() const { return MachineMonotonic(); }

TrialClock::TrialClock(Instant start) : start_(start) {}

Millis TrialClock::SinceStart() const {
  const std::lock_guard lock(mutex_);
  if (speed_ == 0) return stepped_;
  const double ran = static_cast<double>((MachineMonotonic() - ran_from_).count()) * speed_;
  return stepped_ + Millis{static_cast<Millis::rep>(ran)};
}

Instant TrialClock::Wall() const { return start_ + SinceStart(); }
Millis TrialClock::Monotonic() const { return SinceStart(); }

double TrialClock::Speed() const {
  const std::lock_guard lock(mutex_);
  return speed_ == 0 ? 1.0 : speed_;
}

void TrialClock::StepTo(Instant at) {
  const std::lock_guard lock(mutex_);
  if (speed_ != 0) throw std::logic_error("a running clock cannot be stepped");
  stepped_ = std::max(stepped_, at - start_);
}

void TrialClock::Run(double speed) {
  const std::lock_guard lock(mutex_);
  ran_from_ = MachineMonotonic();
  speed_ = speed;
}

}  // namespace rindwatch
