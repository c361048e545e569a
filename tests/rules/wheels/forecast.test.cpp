// How long until it matters: the span must hold what comes, on failures that nothing was tuned on.
#include "rules/wheels/forecast.hpp"

#include <cmath>
#include <random>

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

// A fridge without cold: its air goes to the room's by two time constants, as liner and cheese let it.
struct Failure {
  double begins, room, quick, slow, share;
  double Air(double seconds) const {
    return room - (room - begins) * (share * std::exp(-seconds / quick) + (1 - share) * std::exp(-seconds / slow));
  }
};

}  // namespace

TEST_CASE("the span holds about four in five of the times that came") {
  std::mt19937 random(4);
  std::uniform_real_distribution<double> room(17, 26), quick(1.0, 3.0), slow(9, 20), share(0.2, 0.4), begins(12.2, 13);
  std::normal_distribution<double> noise(0, 0.04), bias(0, 0.15), pace(0, 0.15);
  int held = 0, all = 0, early = 0;
  for (int run = 0; run < 300; ++run) {
    const Failure failure{begins(random), room(random), quick(random) * 3600, slow(random) * 3600, share(random)};
    const double grams = run % 2 ? 250 : 2000;
    const WheelLags lags(UsualBody(Grams{grams}), 6), truly(UsualBody(Grams{grams}), 6 * std::exp(pace(random)));
    WheelFollows follows = WheelFollows::AtRest(failure.begins), real = follows;
    const double wrong = bias(random);
    std::vector<double> air;
    for (int minute = 0; minute < 60; ++minute) {
      follows.Follow(lags, failure.Air(minute * 60), failure.Air(minute * 60 + 60), 60);
      real.Follow(truly, failure.Air(minute * 60), failure.Air(minute * 60 + 60), 60);
      if (minute >= 15) air.push_back(failure.Air(minute * 60 + 30) + noise(random));
    }
    const auto outlook = HowLong(air, lags, follows, wrong, 14);
    double came = kFarthestOutlook;
    for (int minute = 60; minute < 48 * 60; ++minute) {
      if (truly.Core(real.at) >= 14) {
        came = (minute - 60) * 60;
        break;
      }
      real.Follow(truly, failure.Air(minute * 60), failure.Air(minute * 60 + 60), 60);
    }
    if (!outlook || came <= 0) continue;
    ++all;
    held += came >= outlook->soonest && came <= outlook->latest.value_or(kFarthestOutlook);
    early += came < outlook->soonest;
  }
  REQUIRE(all > 200);
  INFO(held << " of " << all << ", sooner " << early);
  CHECK(held > 0.72 * all);
  CHECK(early < 0.15 * all);
}

TEST_CASE("of a fridge that nobody hears the span holds at least four in five of the times that come") {
  std::mt19937 random(9);
  std::uniform_real_distribution<double> room(17, 26), quick(1.0, 3.0), slow(9, 20), share(0.2, 0.4), begins(11.5, 13);
  int held = 0, all = 0, early = 0;
  for (int run = 0; run < 300; ++run) {
    const Failure failure{begins(random), room(random), quick(random) * 3600, slow(random) * 3600, share(random)};
    const WheelLags lags(UsualBody(Grams{run % 2 ? 250.0 : 2000.0}), 6);
    WheelFollows real = WheelFollows::AtRest(failure.begins);
    const auto outlook = HowLongUnheard(failure.begins, lags, real, 14);
    REQUIRE(outlook);
    double came = kFarthestOutlook;
    for (int minute = 0; minute < 48 * 60 && came == kFarthestOutlook; ++minute) {
      if (lags.Core(real.at) >= 14) came = minute * 60;
      real.Follow(lags, failure.Air(minute * 60), failure.Air(minute * 60 + 60), 60);
    }
    ++all;
    held += came >= outlook->soonest && came <= outlook->latest.value_or(kFarthestOutlook);
    early += came < outlook->soonest;
  }
  INFO(held << " of " << all << ", sooner " << early);
  CHECK(held >= 0.8 * all);
  CHECK(early < 0.1 * all);
}

TEST_CASE("a wheel past its limit has no time left, air that does not rise no outlook") {
  const WheelLags lags(UsualBody(Grams{250}), 6);
  const std::vector<double> calm(30, 12.4);
  const auto past = HowLong(calm, lags, WheelFollows::AtRest(14.5), 0, 14);
  REQUIRE(past);
  CHECK(past->soonest == 0);
  CHECK(past->latest == 0.0);
  std::vector<double> cooling;
  for (int minute = 0; minute < 40; ++minute) cooling.push_back(16 - minute * 0.05);
  const auto outlook = HowLong(cooling, lags, WheelFollows::AtRest(12.5), 0, 14);
  CHECK((!outlook || outlook->latest.value_or(1e9) > 3600));
}

TEST_CASE("too few minutes foretell nothing") {
  const WheelLags lags(UsualBody(Grams{250}), 6);
  CHECK_FALSE(HowLong(std::vector<double>(19, 16.0), lags, WheelFollows::AtRest(12.5), 0, 14));
}

}  // namespace rindwatch::rules
