#include "daemon/trial/pace.hpp"

#include <algorithm>
#include <utility>

#include "sensors/topic_filter.hpp"

namespace rindwatch {

Pace::Pace(TrialClock& clock, TrialClock::Machine machine) : clock_(clock), machine_(std::move(machine)) {
  lived_ = clock.Wall();
  looked_ = machine_();
  // Before the two can hear each other nothing is to be missed.
  clock_.StandAt(lived_);
}

void Pace::ListenTo(std::vector<std::string> filters) {
  const std::scoped_lock lock(mutex_);
  filters_ = std::move(filters);
}

void Pace::Listens() {
  const std::scoped_lock lock(mutex_);
  listens_ = true;
}

void Pace::Said(std::string_view topic, rules::Instant at) {
  const std::scoped_lock lock(mutex_);
  const auto heard = [topic](const std::string& filter) { return sensors::Matches(filter, topic); };
  if (!listens_ || std::ranges::none_of(filters_, heard)) return;
  if (unheard_.empty()) since_ = Waited();
  unheard_.push_back(at);
}

void Pace::Heard() {
  const std::scoped_lock lock(mutex_);
  // More than was said: a message that came twice.
  if (unheard_.empty()) return;
  unheard_.pop_front();
  since_ = Waited();
  Release();
}

void Pace::Lived(rules::Instant to) {
  const std::scoped_lock lock(mutex_);
  if (!listens_ && AwaitsBroker()) return;
  if (listens_) apart_.reset();
  GoOn(to);
}

void Pace::Mute(rules::Instant to) {
  const std::scoped_lock lock(mutex_);
  if (!AwaitsBroker()) GoOn(to);
}

// The machine's time since the beginning without what passed while this process stood still.
std::chrono::nanoseconds Pace::Waited() {
  const auto now = machine_();
  waited_ += std::min<std::chrono::nanoseconds>(now - std::exchange(looked_, now), kLook);
  return waited_;
}

bool Pace::AwaitsBroker() {
  const auto now = Waited();
  if (!apart_) apart_ = now;
  if (now - *apart_ <= kPatience) return true;
  apart_ = now;
  return false;
}

void Pace::GoOn(rules::Instant to) {
  lived_ = to;
  if (!unheard_.empty() && Waited() - since_ > kPatience) unheard_.clear();
  Release();
}

void Pace::Release() { clock_.StandAt((unheard_.empty() ? lived_ : std::min(unheard_.front(), lived_)) + kAhead); }

}  // namespace rindwatch
