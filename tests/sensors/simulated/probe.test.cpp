#include "sensors/simulated/probe.hpp"

#include <cmath>
#include <stdexcept>

#include "sensors/simulated/moist_air.hpp"
#include "tests/catch.hpp"

using namespace rindwatch::sensors::simulated;
using Kind = rindwatch::rules::ChannelKind;
using namespace std::chrono_literals;

namespace {

Surroundings Air(double celsius, double humidity) {
  return {celsius, SaturationDensityOverWater(celsius) * humidity / 100, celsius, false, 0};
}

ProbeSpec Exact(Kind kind, std::chrono::seconds lag) {
  return {.name = "P", .where = "", .channels = {{kind, lag, 0, 0, 0}}};
}

double Said(Probe& probe) {
  std::vector<ProbeReading> out;
  probe.Speak(60s, out);
  return out.back().value;
}

}  // namespace

TEST_CASE("after its lag a probe has followed two thirds of a step, however the time is cut") {
  Probe probe{Exact(Kind::kTemperature, 180s), Air(20, 50), Random{1, 1}};
  const int cuts = GENERATE(1, 18, 180);
  for (int i = 0; i < cuts; ++i) probe.Follow(Air(10, 50), 180.0 / cuts);
  CHECK(Said(probe) == Approx(10 + 10 * std::exp(-1)));
}

TEST_CASE("a probe begins settled") {
  ProbeSpec both{
      .name = "P", .where = "", .channels = {{Kind::kHumidity, 60s, 0, 0, 0}, {Kind::kTemperature, 60s, 0, 0, 0}}};
  Probe probe{both, Air(12, 85), Random{1, 1}};
  CHECK(Said(probe) == Approx(12));
  std::vector<ProbeReading> out;
  probe.Speak(60s, out);
  CHECK(out[0].kind == Kind::kHumidity);
  CHECK(out[0].value == Approx(85));
  CHECK(out[0].at == 60s);
}

TEST_CASE("a humidity chip that is still warm reads too dry") {
  ProbeSpec both{
      .name = "P", .where = "", .channels = {{Kind::kTemperature, 600s, 0, 0, 0}, {Kind::kHumidity, 10s, 0, 0, 0}}};
  Probe probe{both, Air(16, 85), Random{1, 1}};
  probe.Follow(Air(12, 85), 60);
  std::vector<ProbeReading> out;
  probe.Speak(60s, out);
  CHECK(out[1].value < 75);
}

TEST_CASE("readings are whole multiples of the resolution, noisy about the truth plus the bias") {
  ProbeSpec spec{.name = "P", .where = "", .channels = {{Kind::kTemperature, 0s, 0.2, 0.1, 0.5}}};
  Probe probe{spec, Air(12, 85), Random{1, 1}};
  double sum = 0, squares = 0;
  for (int i = 0; i < 5000; ++i) {
    const double said = Said(probe);
    CHECK(std::abs(said * 10 - std::round(said * 10)) < 1e-9);
    sum += said;
    squares += (said - 12.5) * (said - 12.5);
  }
  CHECK(sum / 5000 == Approx(12.5).margin(0.02));
  CHECK(std::sqrt(squares / 5000) == Approx(0.2).margin(0.02));
}

TEST_CASE("no probe says more than 100 % or less than nothing") {
  ProbeSpec spec{.name = "P", .where = "", .channels = {{Kind::kHumidity, 0s, 2, 0.1, 5}}};
  Probe wet{spec, Air(12, 99), Random{1, 1}};
  for (int i = 0; i < 200; ++i) CHECK(Said(wet) <= 100);
  spec.channels[0].bias = -5;
  Probe dry{spec, Air(12, 1), Random{1, 1}};
  for (int i = 0; i < 200; ++i) CHECK(Said(dry) >= 0);
}

TEST_CASE("a door contact says open or shut, a plug the plant's power, a stuck-in probe the wheel's core") {
  Surroundings here = Air(12, 85);
  here.door_open = true;
  here.plant_power = 60;
  here.wheel_core = 13.4;
  Probe door{Exact(Kind::kDoor, 0s), here, Random{1, 1}};
  CHECK(Said(door) == 1);
  Probe plug{Exact(Kind::kPlantPower, 0s), here, Random{1, 1}};
  CHECK(Said(plug) == 60);
  Probe wheel{Exact(Kind::kWheelTemperature, 0s), here, Random{1, 1}};
  CHECK(Said(wheel) == Approx(13.4));
}

TEST_CASE("a probe speaks at its own interval") {
  ProbeSpec spec = Exact(Kind::kTemperature, 0s);
  spec.every = 30s;
  Probe probe{spec, Air(12, 85), Random{1, 1}};
  CHECK(probe.IsDue(60s));
  CHECK_FALSE(probe.IsDue(70s));
}

TEST_CASE("a channel without a truth and an interval off the grid are refused with a sentence") {
  CHECK_THROWS_AS((Probe{Exact(Kind::kCarbonDioxide, 0s), Air(12, 85), Random{1, 1}}), std::invalid_argument);
  ProbeSpec spec = Exact(Kind::kTemperature, 0s);
  spec.every = 25s;
  CHECK_THROWS_AS((Probe{spec, Air(12, 85), Random{1, 1}}), std::invalid_argument);
  spec.every = 0s;
  CHECK_THROWS_AS((Probe{spec, Air(12, 85), Random{1, 1}}), std::invalid_argument);
}
