#include "daemon/clock/scheduler.hpp"

#include <algorithm>
#include <memory>

namespace rindwatch {

using rules::Instant;
using rules::Millis;

namespace {
// The wall clock may be stepped while the timer sleeps; nobody hears of it, so it never sleeps longer than this.
constexpr Millis kLongestSleep{30'000};
// After the last millisecond of a sleep the clock must not still stand a hair before the deadline. It is the shortest
// sleep too: a timer asked for none is set to an absolute time, which a shifted wall clock would move.
constexpr Millis kHair{1};
}  // namespace

Scheduler::Scheduler(boost::asio::io_context& loop, const rules::Clock& clock) : timer_(loop), clock_(clock) {}

void Scheduler::WakeAt(const std::string& name, Instant at, Task task) {
  waiting_.insert_or_assign(name, Waiting{at, std::move(task)});
  Arm();
}

void Scheduler::Forget(const std::string& name) { waiting_.erase(name); }

std::optional<Instant> Scheduler::Next() const {
  const auto first = std::ranges::min_element(waiting_, {}, [](const auto& entry) { return entry.second.at; });
  if (first == waiting_.end()) return std::nullopt;
  return first->second.at;
}

void Scheduler::RunDue() {
  const Instant now = clock_.Wall();
  // A task that throws must not leave the others without a timer.
  const std::unique_ptr<Scheduler, void (*)(Scheduler*)> armed(this, [](Scheduler* scheduler) { scheduler->Arm(); });
  for (;;) {
    const auto first = std::ranges::min_element(waiting_, {}, [](const auto& entry) { return entry.second.at; });
    if (first == waiting_.end() || first->second.at > now) break;
    const Task task = std::move(first->second.task);
    waiting_.erase(first);
    task();
  }
}

void Scheduler::Arm() {
  const auto next = Next();
  if (stopped_ || !next) return;
  const double world = static_cast<double>((*next - clock_.Wall()).count()) / clock_.Speed();
  const Millis sleep = std::clamp(Millis{static_cast<Millis::rep>(world)} + kHair, kHair, kLongestSleep);
  const auto wakes = std::chrono::steady_clock::now() + sleep;
  // Put off by nothing: what is asked for again and again comes all the same.
  if (armed_ && timer_.expiry() <= wakes) return;
  armed_ = true;
  timer_.expires_at(wakes);
  timer_.async_wait([this](const boost::system::error_code& error) {
    if (error || stopped_) return;
    armed_ = false;
    RunDue();
  });
}

void Scheduler::Stop() {
  stopped_ = true;
  waiting_.clear();
  timer_.cancel();
}

}  // namespace rindwatch
