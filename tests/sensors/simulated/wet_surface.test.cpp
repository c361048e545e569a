#include "sensors/simulated/wet_surface.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;

namespace {

double Energy(const AirNode& air, const WetSurface& surface) {
  return air.HeatCapacity() * air.celsius + air.vapour * kEvaporationHeat + surface.Energy();
}
double Water(const AirNode& air, const WetSurface& surface) { return air.vapour + surface.liquid + surface.frost; }

}  // namespace

TEST_CASE("a surface below the dew point takes water out of the air, below freezing as frost") {
  AirNode air = MakeAir(0.15, 12, 85);
  WetSurface surface{.heat_capacity = 50000, .area = 0.4, .celsius = 4};
  SECTION("dew") {
    for (int i = 0; i < 600; ++i) surface.Exchange(air, 9, 9, 1);
    CHECK(surface.liquid > 0);
    CHECK(surface.frost == 0);
  }
  SECTION("frost") {
    surface.celsius = -8;
    for (int i = 0; i < 600; ++i) surface.Exchange(air, 9, 9, 1);
    CHECK(surface.liquid == 0);
    CHECK(surface.frost > 0);
  }
}

TEST_CASE("a dry surface above the dew point exchanges heat alone") {
  AirNode air = MakeAir(0.15, 12, 60);
  const double vapour = air.vapour;
  WetSurface surface{.heat_capacity = 2000, .area = 0.4, .celsius = 11};
  for (int i = 0; i < 60; ++i) surface.Exchange(air, 9, 9, 1);
  CHECK(air.vapour == vapour);
  CHECK(surface.celsius > 11);
}

TEST_CASE("water on a surface evaporates until the air is full or the surface dry, and never goes below nothing") {
  AirNode air = MakeAir(0.15, 12, 40);
  WetSurface surface{.heat_capacity = 2000, .area = 0.4, .celsius = 12, .liquid = 0.0001};
  for (int i = 0; i < 3600; ++i) surface.Exchange(air, 9, 9, 1);
  CHECK(surface.liquid >= 0);
  CHECK(surface.liquid < 0.01 * 0.0001);
}

TEST_CASE("a surface stays at 0 °C until its frost has melted") {
  WetSurface surface{.heat_capacity = 1000, .area = 0.4, .celsius = -1, .frost = 0.05};
  AirNode air = MakeAir(1000, 0, 1);
  const double heat = 0.5 * (1000 + 0.05 * kFusionHeat);
  surface.AddHeat(heat);
  surface.Exchange(air, 0, 0, 1);
  CHECK(surface.celsius == Approx(0).margin(1e-9));
  CHECK(surface.frost > 0);
  surface.AddHeat(heat * 2);
  surface.Exchange(air, 0, 0, 1);
  CHECK(surface.frost == 0);
  CHECK(surface.liquid == Approx(0.05));
  CHECK(surface.celsius > 0);
}

TEST_CASE("neither heat nor water is lost in freezing, thawing, dew and mist") {
  AirNode air = MakeAir(0.15, 14, 95);
  WetSurface surface{.heat_capacity = 2000, .area = 0.4, .celsius = -12, .liquid = 0.01, .frost = 0.02};
  const double energy = Energy(air, surface), water = Water(air, surface);
  for (int i = 0; i < 2000; ++i) {
    surface.Exchange(air, 9, 9, 1);
    surface.CatchMist(air);
  }
  CHECK(Energy(air, surface) == Approx(energy).epsilon(1e-9));
  CHECK(Water(air, surface) == Approx(water).epsilon(1e-12));
}

TEST_CASE("mist settles until the air is just full, and clear air stays as it is") {
  AirNode air = MakeAir(0.15, 12, 110);
  WetSurface surface{.heat_capacity = 2000, .area = 0.4, .celsius = 12};
  surface.CatchMist(air);
  CHECK(air.RelativeHumidity() == Approx(100));
  const double liquid = surface.liquid;
  surface.CatchMist(air);
  CHECK(surface.liquid == Approx(liquid));
}

TEST_CASE("what lies beyond the held water drains") {
  WetSurface surface{.heat_capacity = 2000, .area = 0.4, .celsius = 5, .liquid = 0.05};
  CHECK(surface.DrainBeyond(0.02) == Approx(0.03));
  CHECK(surface.liquid == Approx(0.02));
  CHECK(surface.DrainBeyond(0.02) == 0);
}
