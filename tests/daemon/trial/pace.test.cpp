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
    pace.Listens();
    pace.Lived(kStart);
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
  for (auto gone = 0ms; gone <= Pace::kPatience; gone += 20ms) {
    fast.machine += 20ms;
    fast.pace.Lived(fast.clock.Wall());
  }
  const rules::Millis stood = fast.Shown();
  fast.machine += 20ms;
  CHECK(fast.Shown() == stood + 12s);
}

TEST_CASE("a program that was not let run for longer than anybody is waited for has missed nothing") {
  Fast fast;
  fast.machine += 10ms;
  fast.Speak();
  const rules::Millis said = fast.Shown();
  fast.machine += 10 * Pace::kPatience;
  fast.pace.Lived(fast.clock.Wall());
  fast.machine += 1s;
  CHECK(fast.Shown() == said + Pace::kAhead);
}

// The same before anybody has come to the broker.
struct Starting {
  std::chrono::nanoseconds machine{5s};
  TrialClock clock{kStart, [this] { return machine; }};
  Pace pace{clock, [this] { return machine; }};

  Starting() {
    pace.ListenTo({kAir});
    clock.Run(600);
  }
  rules::Millis Shown() const { return clock.Wall() - kStart; }
  // The machine's time goes, and the fridge comes round again and again.
  void Go(std::chrono::milliseconds span, bool mute) {
    for (auto gone = 0ms; gone < span; gone += 20ms) {
      machine += 20ms;
      mute ? pace.Mute(clock.Wall()) : pace.Lived(clock.Wall());
    }
  }
};

TEST_CASE("until the fridge and the watch have come to the broker the clock of a trial stands at its start") {
  Starting starting;
  starting.Go(1s, true);
  CHECK(starting.Shown() == 0s);
  // The fridge is there and speaks; the watch does not hear it yet.
  starting.pace.Said(kAir, kStart);
  starting.Go(1s, false);
  CHECK(starting.Shown() == 0s);
  starting.pace.Listens();
  starting.pace.Lived(kStart);
  starting.machine += 20ms;
  CHECK(starting.Shown() == 12s);
}

TEST_CASE("a watch that is there before the fridge waits for it as well") {
  Starting starting;
  starting.pace.Listens();
  starting.Go(2s, true);
  CHECK(starting.Shown() == 0s);
  starting.Go(20ms, false);
  starting.machine += 20ms;
  CHECK(starting.Shown() == 12s);
}

TEST_CASE("a fridge that loses its broker does not rush through a day that nobody hears of") {
  Fast fast;
  for (int n = 0; n < 100; ++n) {
    fast.machine += 20ms;
    fast.pace.Mute(fast.clock.Wall());
  }
  CHECK(fast.Shown() == Pace::kAhead);
  fast.pace.Lived(fast.clock.Wall());
  fast.machine += 20ms;
  CHECK(fast.Shown() == Pace::kAhead + 12s);
}

TEST_CASE("a broker that never comes does not stop a trial for ever") {
  Starting starting;
  starting.Go(10s, true);
  CHECK(starting.Shown() > 0s);
  CHECK(starting.Shown() <= 4 * Pace::kAhead);
}

}  // namespace
}  // namespace rindwatch
