#include "sensors/simulated/wheel.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;

namespace {

WheelSpec Small() {
  return {.name = "W",
          .shape = {0.055, 0.032},
          .matter = {},
          .rind = {.water_activity = 0.96, .free_share = 1, .respiration = 0}};
}

// Keeps a wheel in air that stays as it is; returns the grams that it lost.
double Keep(Wheel& wheel, const AirNode& air, const StillAir& still, double hours) {
  const double before = wheel.Grams();
  for (int i = 0; i < static_cast<int>(hours * 360); ++i) {
    wheel.Meet(air, still);
    wheel.Absorb(air.celsius, air.VapourDensity(), 10);
  }
  return before - wheel.Grams();
}

constexpr StillAir kFree{.convective = 3, .radiative = 2, .underside_share = 1};

}  // namespace

// By arithmetic from the Lewis relation alone, no source: 250 to 325 g, 11 by 3.2 cm, all faces free, rind 0.96, air
// 12 °C and 90 %, 3 W/(m2 K), rind at the air's temperature: 1.8 % a day. A real rind is cooler, so it loses less.
TEST_CASE("a bare wet wheel loses somewhat less than it would if evaporation did not cool it") {
  Wheel wheel{Small(), 12};
  const AirNode air = MakeAir(1, 12, 90);
  const double area = 2 * Small().shape.FaceArea() + Small().shape.SideArea();
  const double drive = (0.96 - 0.90) * SaturationDensityOverWater(12);
  const double uncooled = 3 / kLewisHeat * area * drive * 86400 * 1000;
  Keep(wheel, air, kFree, 12);
  const double lost = Keep(wheel, air, kFree, 24);
  CHECK(lost < uncooled);
  CHECK(lost > 0.5 * uncooled);
}

// The balance of a wet face: (hc + hr) (T - Ts) = L hm (rho_s(Ts) aw - rho). With a share e of 1 the film behaves like
// hr + hc (1 + about 1.4): near 0.9 K below air of 85 %.
TEST_CASE("in air of 85 % a free wet rind ends nearly one kelvin below the air") {
  WheelSpec spec = Small();
  spec.rind.water_activity = 1;
  Wheel wheel{spec, 12};
  const AirNode air = MakeAir(1, 12, 85);
  Keep(wheel, air, {.convective = 3, .radiative = 2.5, .underside_share = 1}, 24);
  CHECK(12 - wheel.Surface() == Approx(0.9).margin(0.2));
  CHECK(wheel.Core() == Approx(wheel.Surface()).margin(0.05));
}

TEST_CASE("a rind that lets less through loses less") {
  WheelSpec tight = Small();
  tight.rind.free_share = 0.25;
  Wheel open{Small(), 12}, shut{tight, 12};
  const AirNode air = MakeAir(1, 12, 85);
  CHECK(Keep(shut, air, kFree, 24) < 0.5 * Keep(open, air, kFree, 24));
}

TEST_CASE("a cold wheel in warm moist air gets wet, warms, and dries off again before it loses weight of its own") {
  Wheel wheel{Small(), 5};
  const AirNode air = MakeAir(1, 15, 80);
  const double before = wheel.Grams();
  Keep(wheel, air, kFree, 0.5);
  CHECK(wheel.Film() > 0);
  CHECK(wheel.Grams() > before);
  Keep(wheel, air, kFree, 12);
  CHECK(wheel.Film() == 0);
  CHECK(wheel.Grams() < before);
}

TEST_CASE("in air moister than its rind's water activity a wheel takes water up") {
  WheelSpec dry = Small();
  dry.rind.water_activity = 0.85;
  Wheel wheel{dry, 12};
  CHECK(Keep(wheel, MakeAir(1, 12, 95), kFree, 24) < 0);
}

TEST_CASE("a breathing wheel is a little warmer than one that does not breathe") {
  WheelSpec breathing = Small();
  breathing.rind.respiration = 2;
  Wheel a{breathing, 12}, b{Small(), 12};
  const AirNode air = MakeAir(1, 12, 95);
  Keep(a, air, kFree, 24);
  Keep(b, air, kFree, 24);
  CHECK(a.Core() - b.Core() > 0.1);
  CHECK(a.Core() - b.Core() < 0.5);
}

TEST_CASE("the offer that a wheel makes is what it then absorbs") {
  Wheel wheel{Small(), 18};
  const AirNode air = MakeAir(1, 12, 85);
  const auto offer = wheel.Meet(air, kFree);
  const double energy = wheel.Energy(), water = wheel.Water();
  wheel.Absorb(air.celsius, air.VapourDensity(), 10);
  const double heat = offer.heat - offer.heat_slope * air.celsius;
  const double vapour = offer.vapour - offer.vapour_slope * air.VapourDensity();
  CHECK(energy - wheel.Energy() == Approx(10 * (heat + vapour * kEvaporationHeat)).epsilon(1e-6));
  CHECK(water - wheel.Water() == Approx(10 * vapour).epsilon(1e-6));
}
