#include "daemon/clock/clocks.hpp"

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using namespace std::chrono_literals;

const rules::Instant kStart = rules::FromMillis(1'774'000'000'000);

TEST_CASE("a trial's clock stands until it is stepped") {
  TrialClock clock(kStart);
  CHECK(clock.Wall() == kStart);
  CHECK(clock.Monotonic() == 0ms);
  CHECK(clock.Speed() == 1.0);
  clock.StepTo(kStart + 90min);
  CHECK(clock.Wall() == kStart + 90min);
  CHECK(clock.Monotonic() == 90min);
}

TEST_CASE("a trial's clock never goes back") {
  TrialClock clock(kStart);
  clock.StepTo(kStart + 1h);
  clock.StepTo(kStart + 20min);
  CHECK(clock.Wall() == kStart + 1h);
}

TEST_CASE("a running clock goes on from where it stood, at its speed, and cannot be stepped") {
  TrialClock clock(kStart);
  clock.StepTo(kStart + 1h);
  clock.Run(60);
  CHECK(clock.Speed() == 60.0);
  const rules::Instant first = clock.Wall();
  CHECK(first >= kStart + 1h);
  CHECK(clock.Wall() >= first);
  CHECK_THROWS_AS(clock.StepTo(kStart + 2h), std::logic_error);
}

TEST_CASE("wall and monotonic of a trial's clock tell the same span") {
  TrialClock clock(kStart);
  clock.StepTo(kStart + 30s);
  CHECK(clock.Wall() - kStart == clock.Monotonic());
}

TEST_CASE("the machine's clock counts milliseconds since 1970 and its monotonic time does not go back") {
  const RealClock clock;
  CHECK(clock.Wall() > rules::FromMillis(1'600'000'000'000));
  const auto before = clock.Monotonic();
  CHECK(clock.Monotonic() >= before);
  CHECK(clock.Speed() == 1.0);
}

}  // namespace
}  // namespace rindwatch
