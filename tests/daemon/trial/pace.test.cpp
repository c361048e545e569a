#include "daemon/trial/pace.hpp"

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using namespace std::chrono_literals;

const rules::Instant kStart = rules::FromMillis(1'774'000'000'000);
constexpr const char* kAir = "house/fridge/air";
constexpr const char* kBox = "house/box/air";

// A trial 600 times as fast, on a machine whose time is made here.
struct Fast {
  std::chrono::nanoseconds machine{5s};
  TrialClock clock{kStart, [this] { return machine; }};
  Pace pace{clock, [this] { return machine; }};

  Fast() {
    pace.ListenTo({kAir});
    clock.Run(600);
  }
  rules::Millis Shown() const { return clock.Wall() - kStart; }
  // The fridge comes round: it lives up to what the clock shows and speaks.
  void Speak(const char* topic = kAir) {
    pace.Said(topic, clock.Wall());
    pace.Lived(clock.Wall());
  }
};

TEST_CASE("a fast clock goes on at its speed while all that was said is judged") {
  Fast fast;
  for (int n = 0; n < 100; ++n) {
    fast.machine += 20ms;
    fast.Speak();
    fast.machine += 10ms;
    fast.pace.Heard();
  }
  CHECK(fast.Shown() == 600 * 3s);
}

TEST_CASE("while the watch has not judged what was said the clock stands, and makes nothing up afterwards") {
  Fast fast;
  fast.machine += 20ms;
  fast.Speak();
  const rules::Millis said = fast.Shown();
  // The machine does something else for two seconds: twenty minutes of a clock that would not wait.
  for (int n = 0; n < 100; ++n) {
    fast.machine += 20ms;
    fast.pace.Lived(fast.clock.Wall());
  }
  CHECK(fast.Shown() == said + Pace::kAhead);
  fast.pace.Heard();
  CHECK(fast.Shown() == said + Pace::kAhead);
  fast.machine += 10ms;
  CHECK(fast.Shown() == said + Pace::kAhead + 6s);
}

TEST_CASE("each message is waited for: one of many that was judged does not let the clock go") {
  Fast fast;
  fast.machine += 10ms;
  const rules::Millis first = fast.Shown();
  for (int n = 0; n < 3; ++n) {
    fast.Speak();
    fast.machine += 10ms;
  }
  fast.machine += 2s;
  fast.pace.Heard();
  fast.machine += 2s;
  CHECK(fast.Shown() == first + 6s + Pace::kAhead);
}

TEST_CASE("while the whole program stood still the clock did too") {
  Fast fast;
  fast.machine += 10ms;
  fast.Speak();
  fast.pace.Heard();
  fast.machine += 60s;
  CHECK(fast.Shown() == 6s + Pace::kAhead);
}

TEST_CASE("for what nobody listens to, and for a watch that is gone, nobody waits for ever") {
  Fast fast;
  fast.machine += 10ms;
  fast.Speak(kBox);
  fast.machine += 100ms;
  CHECK(fast.Shown() == 66s);
  fast.Speak(kAir);
  fast.machine += Pace::kPatience + 1ms;
  fast.pace.Lived(fast.clock.Wall());
  const rules::Millis stood = fast.Shown();
  fast.machine += 20ms;
  CHECK(fast.Shown() == stood + 12s);
}

}  // namespace
}  // namespace rindwatch
