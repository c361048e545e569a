#include "daemon/clock/leap.hpp"

#include "tests/catch.hpp"

namespace rindwatch {

using namespace std::chrono_literals;

TEST_CASE("a clock that was right and goes on by more than time did has leapt, and is told for a day") {
  const rules::Instant morning = rules::FromMillis(1'780'000'000'000);
  LeapWatch leaps;
  leaps.Look(morning, 0ms, true);
  leaps.Look(morning + 1min, 1min, true);
  CHECK_FALSE(leaps.Told(morning + 1min));
  const rules::Instant later = morning + 5h;
  CHECK(leaps.Look(later, 2min, true));
  CHECK_FALSE(leaps.Look(later + 1min, 3min, true));
  REQUIRE(leaps.Told(later));
  CHECK(leaps.Told(later)->from == morning + 1min);
  CHECK(leaps.Told(later + 23h));
  CHECK_FALSE(leaps.Told(later + 25h));
}

TEST_CASE("a clock that was not believed and is put right has leapt nowhere") {
  const rules::Instant woken = rules::FromMillis(0);
  LeapWatch leaps;
  leaps.Look(woken, 0ms, false);
  leaps.Look(woken + 20'000h, 1min, true);
  CHECK_FALSE(leaps.Told(woken + 20'000h));
}

}  // namespace rindwatch
