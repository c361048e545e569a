#include "sensors/simulated/moist_air.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;

// IAPWS-95 (IAPWS R6-95, 2018), phase equilibrium solved, in Pa; computed with the Debian package python3-iapws 1.5.3.
// Buck 1981 stays within 0.1 % of it from 0 to 30 °C.
TEST_CASE("saturation pressure over water agrees with IAPWS-95 within 0.1 % over 0 to 30 °C") {
  struct Row {
    double celsius, pascals;
  };
  for (const Row& row : {Row{0.01, 611.6548},
                         {1, 657.0856},
                         {5, 872.5751},
                         {8, 1072.9950},
                         {10, 1228.1989},
                         {12, 1402.8482},
                         {13, 1498.0961},
                         {16, 1818.8163},
                         {20, 2339.3182},
                         {25, 3169.9293},
                         {30, 4246.9708}}) {
    INFO(row.celsius);
    CHECK(SaturationPressureOverWater(row.celsius) == Approx(row.pascals).epsilon(0.001));
  }
}

TEST_CASE("over ice less vapour is held than over water, and at 0 °C the same") {
  CHECK(SaturationPressureOverIce(-10) < SaturationPressureOverWater(-10));
  CHECK(SaturationPressureOverIce(0) == Approx(SaturationPressureOverWater(0)).epsilon(0.0005));
}

// psychrolib 1.1.1 (equations of the ASHRAE Handbook, 2017), absolute humidity by e / (Rv T): 3.33553 g/m3.
TEST_CASE("air at 2 °C and 60 % holds what the handbook's equations give") {
  CHECK(MakeAir(1, 2, 60).vapour == Approx(3.33553e-3).epsilon(0.001));
  CHECK(MakeAir(1, 2, 60).RelativeHumidity() == Approx(60));
}

TEST_CASE("air that changes places takes its heat and its vapour along and loses nothing") {
  AirNode a = MakeAir(0.2, 12, 80);
  AirNode b = MakeAir(0.01, 20, 50);
  const double heat = a.HeatCapacity() * a.celsius + b.HeatCapacity() * b.celsius;
  const double vapour = a.vapour + b.vapour;
  Mix(a, b, 0.001, 1);
  CHECK(a.HeatCapacity() * a.celsius + b.HeatCapacity() * b.celsius == Approx(heat).epsilon(1e-12));
  CHECK(a.vapour + b.vapour == Approx(vapour).epsilon(1e-12));
  CHECK(b.celsius < 20);
  CHECK(b.celsius > 12);
}

TEST_CASE("however strong the draught, the two airs end alike and neither passes the other") {
  AirNode a = MakeAir(0.2, 12, 80);
  AirNode b = MakeAir(0.01, 20, 50);
  Mix(a, b, 100, 60);
  CHECK(a.celsius == Approx(b.celsius));
  CHECK(a.VapourDensity() == Approx(b.VapourDensity()));
}
