// Keeps the clock of a trial behind the watch: it stands still until the watch has judged what the simulated fridge
// said, and until both have come to the broker, so that a machine that is busy, however fast the clock goes, makes a
// slow trial and no false silence. Lives as long as the fridge's thread; any thread.
#pragma once

#include <chrono>
#include <deque>
#include <mutex>
#include <optional>
#include <string_view>
#include <vector>

#include "daemon/clock/clocks.hpp"
#include "daemon/simulate/simulate.hpp"

namespace rindwatch {

class Pace : public Listening {
 public:
  // What the clock may be ahead of the last instant of which all was judged; far less than a probe is ever silent.
  static constexpr std::chrono::seconds kAhead{60};
  // Of the machine's time in which this process was let run. Who says nothing of what it was told for so long hears
  // nothing, and who has not come to the broker by then does not come: the clock goes on, by kAhead each time, and a
  // silence is one.
  static constexpr std::chrono::seconds kPatience{3};
  // Looked at so often at least; what is longer is the machine's own pause, in which nobody could have heard.
  static constexpr std::chrono::milliseconds kLook{250};

  Pace(TrialClock& clock, TrialClock::Machine machine);

  // The topics that the watch listens to, as filters; what is said to others is heard by nobody.
  void ListenTo(std::vector<std::string> filters);
  // The watch has come to the broker: what is said from now on it hears. What was said before nobody waits for.
  void Listens();
  // The watch has judged a message more.
  void Heard();

  // The fridge's thread.
  void Said(std::string_view topic, rules::Instant at) override;
  void Lived(rules::Instant to) override;
  void Mute(rules::Instant to) override;

 private:
  // Under the mutex.
  std::chrono::nanoseconds Waited();
  bool AwaitsBroker();
  void GoOn(rules::Instant to);
  void Release();

  TrialClock& clock_;
  const TrialClock::Machine machine_;
  std::mutex mutex_;
  std::vector<std::string> filters_;
  std::deque<rules::Instant> unheard_;  // when what was not yet judged was said
  std::chrono::nanoseconds since_{0};   // when the first of these was said, or the last before it judged
  std::chrono::nanoseconds waited_{0}, looked_{0};
  rules::Instant lived_{};
  bool listens_ = false;                           // the watch
  std::optional<std::chrono::nanoseconds> apart_;  // since when one of the two is not at the broker
};

}  // namespace rindwatch
