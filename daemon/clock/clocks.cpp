#include "daemon/clock/clocks.hpp"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <stdexcept>
#include <utility>

namespace rindwatch {

using rules::Instant;
using rules::Millis;

namespace {
std::chrono::nanoseconds MachineMonotonic() { return std::chrono::steady_clock::now().time_since_epoch(); }
Millis Whole(std::chrono::nanoseconds span) { return std::chrono::floor<Millis>(span); }
}  // namespace

Instant RealClock::Wall() const { return std::chrono::floor<Millis>(std::chrono::system_clock::now()); }
Millis RealClock::Monotonic() const { return Whole(MachineMonotonic()); }

bool IsSetByNetwork(const std::string& mark) {
  std::error_code ignored;
  return std::filesystem::exists(mark, ignored);
}

TrialClock::TrialClock(Instant start) : TrialClock(start, MachineMonotonic) {}
TrialClock::TrialClock(Instant start, Machine machine) : start_(start), machine_(std::move(machine)) {}

std::chrono::nanoseconds TrialClock::SinceStart() const {
  if (speed_ == 0) return stepped_;
  const double ran = static_cast<double>((machine_() - ran_from_).count()) * speed_;
  const auto at = stepped_ + std::chrono::nanoseconds{static_cast<std::chrono::nanoseconds::rep>(ran)};
  return stand_ ? std::min(at, *stand_) : at;
}

Millis TrialClock::Monotonic() const {
  const std::lock_guard lock(mutex_);
  return Whole(SinceStart());
}
Instant TrialClock::Wall() const { return start_ + Monotonic(); }

double TrialClock::Speed() const {
  const std::lock_guard lock(mutex_);
  return speed_ == 0 ? 1.0 : speed_;
}

void TrialClock::StepTo(Instant at) {
  const std::lock_guard lock(mutex_);
  if (speed_ != 0) throw std::logic_error("a running clock cannot be stepped");
  stepped_ = std::max<std::chrono::nanoseconds>(stepped_, at - start_);
}

void TrialClock::Run(double speed) {
  const std::lock_guard lock(mutex_);
  stepped_ = SinceStart();
  ran_from_ = machine_();
  speed_ = speed;
}

void TrialClock::StandAt(Instant at) {
  const std::lock_guard lock(mutex_);
  // What it stood until now is left behind.
  stepped_ = SinceStart();
  ran_from_ = machine_();
  stand_ = std::max<std::chrono::nanoseconds>(stepped_, at - start_);
}

}  // namespace rindwatch
