// What each slow or hidden mishap does to the fridge, and that heat and water still balance under it.
#include <cmath>

#include "tests/catch.hpp"
#include "tests/sensors/simulated/fridges.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;

namespace {

Fridge After(std::chrono::seconds span, const char* mishap, FridgeSpec spec = QuietSpec(3)) {
  Fridge fridge{std::move(spec)};
  fridge.Step(6h);
  if (*mishap) fridge.Do(ParseMishap(mishap));
  fridge.Step(span);
  return fridge;
}

std::vector<ProbeReading> SaidIn(Fridge& fridge, std::chrono::seconds span, rindwatch::rules::ChannelKind kind) {
  std::vector<ProbeReading> said;
  for (const ProbeReading& reading : fridge.Step(span).readings) {
    if (reading.probe == "Fridge" && reading.kind == kind) said.push_back(reading);
  }
  return said;
}

FridgeSpec WithWick() {
  FridgeSpec spec = QuietSpec(3);
  spec.humidifier.fitted = true;
  return spec;
}

}  // namespace

TEST_CASE("a thermostat that drifts ends two kelvins warmer, and switches again where it did once mended") {
  Fridge drifted = After(48h, "thermostat drifts 24h");
  CHECK(MeanOf(Live(drifted, 6h), AirOf) == Approx(14.5).margin(0.4));
  drifted.Do(ParseMishap("thermostat mended"));
  drifted.Step(12h);
  CHECK(MeanOf(Live(drifted, 6h), AirOf) == Approx(12.5).margin(0.4));
}

TEST_CASE("an iced coil cools slower and slower until the plant cannot keep up") {
  Fridge early = After(12h, "coil ices 48h"), late = After(54h, "coil ices 48h"), sound = After(54h, "");
  CHECK(MeanOf(Live(early, 3h), AirOf) < 13.2);
  CHECK(late.Now().air > sound.Now().air + 1.5);
  late.Do(ParseMishap("coil thawed"));
  late.Step(12h);
  CHECK(MeanOf(Live(late, 6h), AirOf) == Approx(12.5).margin(0.4));
}

TEST_CASE("a compressor that sticks freezes the fridge, and stops once mended") {
  Fridge fridge = After(24h, "compressor sticks");
  CHECK(fridge.Now().air < 4);
  fridge.Do(ParseMishap("compressor mended"));
  fridge.Step(48h);
  CHECK(MeanOf(Live(fridge, 6h), AirOf) == Approx(12.5).margin(0.4));
}

TEST_CASE("a wick holds the humidity of the fridge, until it is dry") {
  Fridge fed = After(24h, "", WithWick()), dry = After(24h, "wick dry", WithWick()), none = After(24h, "");
  const double with = MeanOf(Live(fed, 6h), HumidityOf), without = MeanOf(Live(dry, 6h), HumidityOf);
  CHECK(with > without + 3);
  CHECK(without == Approx(MeanOf(Live(none, 6h), HumidityOf)).margin(2));
  dry.Do(ParseMishap("wick filled"));
  dry.Step(24h);
  CHECK(MeanOf(Live(dry, 6h), HumidityOf) == Approx(with).margin(1.5));
}

TEST_CASE("a heat wave warms the room by twelve kelvins at its height, and passes") {
  Fridge fridge = After(24h, "heat wave 48h");
  CHECK(fridge.Now().room == Approx(fridge.Spec().room.mean_celsius + 12).margin(0.1));
  fridge.Step(25h);
  CHECK(fridge.Now().room == Approx(fridge.Spec().room.mean_celsius).margin(0.1));
}

TEST_CASE("a delivery opens the door and brings three warm wheels, which are carried on after three days") {
  Fridge fridge = After(1min, "delivery");
  CHECK(fridge.Now().door == 1);
  CHECK(fridge.Now().wheels.size() == 12);
  fridge.Step(10min);
  CHECK(fridge.Now().door == 0);
  fridge.Do(ParseMishap("delivery"));
  fridge.Step(73h);
  CHECK(fridge.Now().wheels.size() == 9);
}

TEST_CASE("a stuck probe repeats itself to the last digit, a wet one stays near the end of its scale") {
  using Kind = rindwatch::rules::ChannelKind;
  Fridge stuck = After(1min, "probe stuck Fridge 2h");
  const auto same = SaidIn(stuck, 90min, Kind::kTemperature);
  REQUIRE(same.size() > 80);
  for (const ProbeReading& reading : same) CHECK(reading.value == same.front().value);
  stuck.Step(31min);
  const auto moving = SaidIn(stuck, 30min, Kind::kTemperature);
  CHECK(std::any_of(moving.begin(), moving.end(), [&](const auto& r) { return r.value != moving.front().value; }));
  Fridge wet = After(1min, "probe wet Fridge");
  for (const ProbeReading& reading : SaidIn(wet, 60min, Kind::kHumidity)) CHECK(reading.value > 98);
  wet.Do(ParseMishap("probe back Fridge"));
  CHECK(SaidIn(wet, 10min, Kind::kHumidity).back().value < 96);
}

TEST_CASE("heat and water balance under every mishap") {
  for (const char* mishap : {"thermostat drifts 6h", "coil ices 6h", "compressor sticks", "wick dry", "heat wave 12h",
                             "delivery", "probe stuck Fridge", "probe wet Fridge"}) {
    INFO(mishap);
    Fridge fridge{WithWick()};
    fridge.Step(2h);
    const double energy = fridge.Energy() - fridge.Border().heat, water = fridge.Water() - fridge.Border().water;
    fridge.Do(ParseMishap(mishap));
    fridge.Step(8h);
    CHECK(fridge.Energy() - fridge.Border().heat == Approx(energy).margin(std::abs(fridge.Energy()) * 1e-9 + 0.1));
    CHECK(fridge.Water() - fridge.Border().water == Approx(water).margin(1e-9));
  }
}
