// Two lags against a finite-difference solution, and the straight lines between points.
#include "rules/wheels/lags.hpp"

#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/wheels/finite_differences.hpp"

namespace rindwatch::rules {
namespace {

constexpr double kStep = 20;

struct Worst {
  double core = 0, mean = 0;
};

// The largest difference between lags and finite differences over two days of this air.
template <typename Air>
Worst FarthestFrom(double grams, double film, double begins, Air air) {
  const WheelBody body = UsualBody(Grams{grams});
  const WheelLags lags(body, film);
  const SteadySpan span(lags, kStep);
  FiniteDifferences truth(body, {}, film, begins, kStep);
  WheelFollows follows = WheelFollows::AtRest(begins);
  Worst worst;
  for (double at = 0; at < 48 * 3600; at += kStep) {
    truth.Step(air(at + kStep));
    span.Follow(follows, air(at), air(at + kStep));
    worst.core = std::max(worst.core, std::abs(lags.Core(follows.at) - truth.Core()));
    worst.mean = std::max(worst.mean, std::abs(lags.Mean(follows.at) - truth.Mean()));
  }
  return worst;
}

}  // namespace

TEST_CASE("two lags follow a step of 8 K within a tenth of a kelvin, a large wheel within three tenths") {
  const auto step = [](double) { return 20.0; };
  for (const auto& [grams, near] :
       {std::pair{250.0, 0.1}, std::pair{2000.0, 0.1}, std::pair{8000.0, 0.1}, std::pair{25000.0, 0.3}}) {
    INFO(grams << " g");
    const Worst worst = FarthestFrom(grams, 5, 12, step);
    CHECK(worst.core < near);
    CHECK(worst.mean < near + 0.1);
  }
}

TEST_CASE("two lags follow a plant's cycles, a defrost and a day without cold") {
  const auto air = [](double at) {
    const double cycle = 12.4 + 0.4 * std::sin(at / 300);
    const double defrost = std::fmod(at, 12 * 3600) < 1500 ? 3.0 : 0.0;
    const double failing = at > 24 * 3600 ? 7 * (1 - std::exp(-(at - 24 * 3600) / 14400)) : 0.0;
    return cycle + defrost + failing;
  };
  for (const double grams : {250.0, 2000.0, 8000.0}) {
    INFO(grams << " g");
    CHECK(FarthestFrom(grams, 8, 12.4, air).core < 0.1);
  }
}

TEST_CASE("a span in one piece is the same as in many") {
  const WheelLags lags(UsualBody(Grams{2000}), 5);
  WheelFollows whole = WheelFollows::AtRest(12), cut = whole;
  whole.Follow(lags, 12, 18, 7200);
  for (int i = 0; i < 120; ++i) cut.Follow(lags, 12 + i * 0.05, 12 + (i + 1) * 0.05, 60);
  for (std::size_t i = 0; i < WheelLags::kCount; ++i) CHECK(cut.at[i] == Approx(whole.at[i]).epsilon(1e-12));
}

TEST_CASE("across a gap of three hours a straight line is near, and holding the last value is not") {
  const WheelBody body = UsualBody(Grams{250});
  const WheelLags lags(body, 6);
  const auto air = [](double hours) { return 12 + 6 * (1 - std::exp(-hours / 5)); };
  WheelFollows seen = WheelFollows::AtRest(12), line = seen, held = seen;
  for (int minute = 0; minute < 180; ++minute) seen.Follow(lags, air(minute / 60.0), air((minute + 1) / 60.0), 60);
  line.Follow(lags, air(0), air(3), 3 * 3600);
  held.Follow(lags, air(0), air(0), 3 * 3600);
  CHECK(std::abs(lags.Core(line.at) - lags.Core(seen.at)) < 0.3);
  CHECK(std::abs(lags.Core(held.at) - lags.Core(seen.at)) > 1.0);
}

TEST_CASE("at rest a wheel shows the air everywhere, and a small one follows before a large one") {
  const WheelLags small(UsualBody(Grams{250}), 5), large(UsualBody(Grams{8000}), 5);
  WheelFollows a = WheelFollows::AtRest(12), b = a;
  CHECK(small.Core(a.at) == Approx(12));
  CHECK(small.Skin(a.at) == Approx(12));
  a.Follow(small, 20, 20, 3600);
  b.Follow(large, 20, 20, 3600);
  CHECK(small.Core(a.at) > large.Core(b.at) + 1);
  CHECK(small.Skin(a.at) > small.Mean(a.at));
  CHECK(small.Mean(a.at) > small.Core(a.at));
}

TEST_CASE("the time to follow two thirds is that of the trade's twelve facts") {
  // Common practice: 250 g in 1 to 2 h, 2 kg in 2.5 to 4, 8 kg in 4 to 7, 25 to 35 kg in 6 to 11.
  // That holds for a bare, moist rind in air that moves a little, 9 W/(m2 K).
  const auto hours_of = [](double grams) {
    const WheelLags lags(UsualBody(Grams{grams}), 9);
    WheelFollows follows = WheelFollows::AtRest(0);
    int minutes = 0;
    for (; lags.Mean(follows.at) < 0.632; ++minutes) follows.Follow(lags, 1, 1, 60);
    return minutes / 60.0;
  };
  CHECK((hours_of(250) > 1 && hours_of(250) < 2));
  CHECK((hours_of(2000) > 2.3 && hours_of(2000) < 4));
  CHECK((hours_of(8000) > 4 && hours_of(8000) < 7));
  CHECK((hours_of(25000) > 6 && hours_of(25000) < 11.5));
}

TEST_CASE("a wet rind follows faster and rests below the air, a waxed one does neither") {
  const RindAir free{1.0, false}, soft{0.8, false}, waxed{0.0, false}, boxed{0.8, true};
  CHECK(waxed.Film() == Approx(5));
  CHECK(soft.Film() > 1.5 * waxed.Film());
  CHECK(boxed.Film() < waxed.Film());
  // A numerical study of a ripening fridge: at 85 % a free rind sits 0.9 K below the air.
  CHECK(free.BelowAir({85}).value == Approx(0.9).margin(0.2));
  CHECK(waxed.BelowAir({60}).value == 0);
  CHECK(soft.BelowAir({99}).value == 0);
  CHECK(boxed.BelowAir({70}).value == 0);
}

}  // namespace rindwatch::rules
