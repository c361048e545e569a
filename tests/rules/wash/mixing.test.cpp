#include "rules/wash/mixing.hpp"

#include <cmath>
#include <random>

#include "tests/catch.hpp"

using namespace rindwatch::rules;

namespace {

Wash WashOf(double low, double high) { return {{low, high, "invented"}, {}, ""}; }

double MassOfAll(const Mixing& mixing) {
  const auto of_water = DensityOfBrine({0});
  double grams = mixing.salt.value + MassOf(mixing.water, of_water).value;
  for (const MixedAddition& addition : mixing.additions) grams += MassOf(addition.volume, of_water).value;
  return grams;
}

}  // namespace

TEST_CASE("a little wash is still 100 g, with whole grams of salt") {
  const std::vector<Grams> wheels{Grams{900}, Grams{900}};
  const Mixing mixing = MixFor(WashOf(3, 5), wheels);
  CHECK(mixing.strength == MassPercent{4});
  CHECK(mixing.salt == Grams{4});
  CHECK(mixing.total.value == Approx(100));
  CHECK(mixing.water.value == Approx(96 / 0.9982).epsilon(1e-9));
  CHECK(mixing.volume.value == Approx(100 / 1.0268).epsilon(1e-9));  // by the published table
}

TEST_CASE("salt rounded up to whole grams brings its water along, so the strength is exact") {
  const Mixing mixing = Mix(WashOf(3.5, 3.5), {3.5}, Grams{100});
  CHECK(mixing.salt == Grams{4});
  CHECK(mixing.total.value == Approx(400 / 3.5));
  CHECK(100 * mixing.salt.value / mixing.total.value == Approx(3.5).epsilon(1e-12));
}

// The trade's own figures, by arithmetic: 3 % is 31 g of salt to a litre of water, 5 % 53 g, 20 % 250 g.
TEST_CASE("to a litre of water comes as much salt as the trade reckons") {
  for (const auto& [percent, salt] : {std::pair{3.0, 31}, std::pair{5.0, 53}, std::pair{20.0, 250}}) {
    const double exact = 1000 * percent / (100 - percent);
    CHECK(std::lround(exact) == salt);
    const Mixing mixing = Mix(WashOf(percent, percent), {percent}, Grams{1000 + exact});
    CHECK(mixing.salt.value - exact >= -1e-6);
    CHECK(mixing.salt.value - exact < 1);
  }
}

TEST_CASE("an addition is measured by the litre of the finished wash and takes the place of water") {
  Wash wash = WashOf(5, 5);
  wash.additions = {{"cider", 50, "invented"}, {"culture", 2, "invented"}};
  const Mixing mixing = Mix(wash, {5}, Grams{1000});
  REQUIRE(mixing.additions.size() == 2);
  CHECK(mixing.salt == Grams{50});
  CHECK(mixing.additions[0].name == "cider");
  CHECK(mixing.additions[0].volume.value == Approx(0.050 * mixing.volume.value));
  CHECK(mixing.additions[1].volume.value == Approx(0.002 * mixing.volume.value));
  CHECK(MassOfAll(mixing) == Approx(1000));
}

TEST_CASE("plain water needs no salt, a wash that is all addition no water") {
  const Mixing plain = Mix(WashOf(0, 0), {0}, Grams{250});
  CHECK(plain.salt == Grams{0});
  CHECK(plain.water.value == Approx(250 / 0.9982).epsilon(1e-9));
  Wash whey = WashOf(0, 0);
  whey.additions = {{"whey", 1000, "invented"}};
  CHECK(Mix(whey, {0}, Grams{250}).water.value == Approx(0).margin(1e-9));
}

// Common practice, no source.
TEST_CASE("a wheel takes what its size takes") {
  const struct {
    double grams, low, high;
  } rows[] = {{250, 3, 5}, {2'000, 15, 25}, {8'000, 40, 60}, {35'000, 100, 150}};
  for (const auto& row : rows) {
    const MillilitreSpan span = WashOfWheel({row.grams});
    CHECK(span.low.value == Approx(row.low));
    CHECK(span.high.value == Approx(row.high));
  }
  CHECK(WashOfWheel({0}) == WashOfWheel(kUsualWheel));
  CHECK(WashOfWheel({2'000 / 8.0}).high.value == Approx(25 / std::pow(8, 0.774)).epsilon(0.01));
  // Of one shape a wheel of an eighth of the mass has a quarter of the surface.
  CHECK(WashOfWheel({250 / 8.0}).high.value == Approx(5.0 / 4));
  CHECK(WashOfWheel({35'000 * 8.0}).low.value == Approx(400));
}

// The same practice says 150 to 250 mL for each square metre of rind: a wheel of 2 kg, 20 by 7 cm.
TEST_CASE("the figure for a wheel agrees with the figure for its rind") {
  const double square_metres = 2 * M_PI * 0.1 * 0.1 + M_PI * 0.2 * 0.07;
  const MillilitreSpan span = WashOfWheel({2'000});
  CHECK(span.low.value == Approx(150 * square_metres).epsilon(0.1));
  CHECK(span.high.value == Approx(250 * square_metres).epsilon(0.1));
}

TEST_CASE("more or heavier wheels never take less") {
  for (double grams = 30; grams < 60'000; grams *= 1.1) {
    CHECK(WashOfWheel({grams}).high < WashOfWheel({grams * 1.1}).high);
    CHECK(WashOfWheel({grams}).low < WashOfWheel({grams}).high);
  }
}

TEST_CASE("whatever is mixed adds up, suffices and is as strong as was asked for") {
  std::mt19937 random(11);
  const auto between = [&](double low, double high) { return std::uniform_real_distribution<>(low, high)(random); };
  for (int i = 0; i < 500; ++i) {
    Wash wash = WashOf(0, 0);
    wash.salt.low = between(0, 20);
    wash.salt.high = between(wash.salt.low, 26);
    if (i % 3 == 0) wash.additions.push_back({"cider", between(0, 100), "invented"});
    std::vector<Grams> wheels(static_cast<std::size_t>(between(0, 60)), Grams{between(50, 40'000)});
    const Mixing mixing = MixFor(wash, wheels);
    CHECK(mixing.total >= kLeastWash);
    CHECK(MassOfAll(mixing) == Approx(mixing.total.value).epsilon(1e-9));
    CHECK(mixing.salt.value == std::round(mixing.salt.value));
    CHECK(100 * mixing.salt.value / mixing.total.value == Approx(StrengthOf(wash).value).epsilon(1e-9));
    double needed = 0;
    for (const Grams wheel : wheels) needed += WashOfWheel(wheel).high.value;
    CHECK(mixing.volume.value >= needed - 1e-9);
    // Never more than a gram of salt too much.
    const double exact = std::max(MassOf({needed}, DensityOfBrine(mixing.strength)), kLeastWash).value;
    CHECK(mixing.total.value <= exact + 100 / mixing.strength.value + 1e-6);
  }
}
