// That the simulated fridge behaves as fridges do. The bounds are those of common practice, no source, unless named.
#include <cmath>

#include "tests/catch.hpp"
#include "tests/sensors/simulated/fridges.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;
using std::chrono::seconds;

namespace {

struct Cycles {
  int count = 0;
  double on = 0, off = 0;  // minutes, means
};
Cycles CyclesOf(const std::vector<Truth>& truths) {
  Cycles cycles;
  int on = 0;
  for (std::size_t i = 1; i < truths.size(); ++i) {
    on += truths[i].compressor_runs ? 1 : 0;
    cycles.count += truths[i].compressor_runs && !truths[i - 1].compressor_runs ? 1 : 0;
  }
  const double all = static_cast<double>(truths.size());
  cycles.on = on / 6.0 / cycles.count;
  cycles.off = (all - on) / 6.0 / cycles.count;
  return cycles;
}

double Core(const Truth& truth, std::size_t wheel) { return truth.wheels.at(wheel).core; }

}  // namespace

// A household fridge left shut ran about 5 minutes and rested 10 (classroom data logging, 2017), colder than ours, so
// with shorter rests.
TEST_CASE("a fridge left shut cycles in minutes and keeps its temperature within a kelvin or two") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(6h);
  const auto truths = Live(fridge, 24h);
  const Cycles cycles = CyclesOf(truths);
  CHECK(cycles.on > 2);
  CHECK(cycles.on < 10);
  CHECK(cycles.off > 8);
  CHECK(cycles.off < 40);
  CHECK(MeanOf(truths, AirOf) == Approx(12.5).margin(0.4));
  CHECK(HighestOf(truths, AirOf) - LowestOf(truths, AirOf) > 0.5);
  CHECK(HighestOf(truths, AirOf) - LowestOf(truths, AirOf) < 2.5);
}

TEST_CASE("humidity saws by 10 to 30 points with each cycle, and the open fridge holds no more than 85 % in the mean") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(6h);
  const auto truths = Live(fridge, 6h);
  const double saw = HighestOf(truths, HumidityOf) - LowestOf(truths, HumidityOf);
  CHECK(saw > 10);
  CHECK(saw < 32);
  CHECK(MeanOf(truths, HumidityOf) < 85);
  CHECK(MeanOf(truths, HumidityOf) > 60);
}

TEST_CASE("a shut box is wetter and steadier than the fridge, ajar is between, off is nearly the fridge") {
  const auto humidity = [](Lid lid) {
    FridgeSpec spec = QuietSpec(1);
    spec.boxes[0].lid = lid;
    Fridge fridge{spec};
    fridge.Step(6h);
    return Live(fridge, 6h);
  };
  const auto shut = humidity(Lid::kShut), ajar = humidity(Lid::kAjar), off = humidity(Lid::kOff);
  CHECK(MeanOf(shut, BoxHumidityOf) > 90);
  CHECK(MeanOf(shut, BoxHumidityOf) < 99);
  CHECK(MeanOf(ajar, BoxHumidityOf) < MeanOf(shut, BoxHumidityOf) - 3);
  CHECK(MeanOf(ajar, BoxHumidityOf) > MeanOf(ajar, HumidityOf) + 3);
  CHECK(MeanOf(off, BoxHumidityOf) < MeanOf(off, HumidityOf) + 8);
  CHECK(HighestOf(shut, BoxHumidityOf) - LowestOf(shut, BoxHumidityOf) <
        HighestOf(off, BoxHumidityOf) - LowestOf(off, BoxHumidityOf));
}

TEST_CASE("the lid of a box sets what its wheels lose") {
  const auto lost = [](Lid lid) {
    FridgeSpec spec = QuietSpec(1);
    spec.boxes[0].lid = lid;
    Fridge fridge{spec};
    const double before = fridge.Now().wheels[0].grams;
    fridge.Step(24h);
    return 100 * (before - fridge.Now().wheels[0].grams) / before;
  };
  const double shut = lost(Lid::kShut), ajar = lost(Lid::kAjar), off = lost(Lid::kOff);
  CHECK(shut > 0.1);
  CHECK(shut < 1);
  CHECK(ajar > shut);
  CHECK(off > ajar);
  CHECK(off < 6);
}

// From memory: 15 to 30 minutes once or twice a day, the air up 2 to 6 °C for 20 to 40 minutes.
TEST_CASE("a defrost warms and wets the air for a while, and the wheels hardly notice") {
  FridgeSpec spec = QuietSpec(1);
  spec.plant.defrost.first = 6h;
  Fridge fridge{spec};
  fridge.Step(5h);
  const auto before = Live(fridge, 59min);
  const double usual = HighestOf(before, AirOf), core = Core(before.back(), 0);
  const auto during = Live(fridge, 2h);
  CHECK(HighestOf(during, AirOf) - MeanOf(before, AirOf) > 2);
  CHECK(HighestOf(during, AirOf) - MeanOf(before, AirOf) < 6.5);
  CHECK(HighestOf(during, HumidityOf) > HighestOf(before, HumidityOf) + 3);
  double minutes = 0;
  for (const Truth& truth : during) minutes += truth.air > usual + 0.3 ? 1 / 6.0 : 0;
  CHECK(minutes > 10);
  CHECK(minutes < 40);
  double furthest = 0;
  for (const Truth& truth : during) furthest = std::max(furthest, Core(truth, 0) - core);
  CHECK(furthest < 0.6);
}

TEST_CASE("an off-cycle defrost has no heater and is over when the coil has thawed") {
  FridgeSpec spec = QuietSpec(1);
  spec.plant.defrost = {.every = 12h, .first = 6h, .heater = 0, .until_coil = 5};
  Fridge fridge{spec};
  fridge.Step(6h);
  bool defrosted = false;
  for (const Truth& truth : Live(fridge, 1h)) {
    defrosted |= truth.defrosts;
    CHECK(truth.electric < 70);
    CHECK_FALSE((truth.defrosts && truth.compressor_runs));
  }
  CHECK(defrosted);
  CHECK_FALSE(fridge.Now().defrosts);
}

TEST_CASE("with a dead compressor the fridge warms towards the room over hours, small wheels before big ones") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(12h);
  const double small = Core(fridge.Now(), 0), big = Core(fridge.Now(), 6);
  fridge.Do({.kind = Mishap::Kind::kCompressorDead});
  fridge.Step(1h);
  const double after_one = fridge.Now().air;
  CHECK(after_one > 13);
  CHECK(after_one < 18);
  fridge.Step(2h);
  CHECK(fridge.Now().air > after_one);
  CHECK(Core(fridge.Now(), 0) - small > Core(fridge.Now(), 6) - big);
  CHECK(Core(fridge.Now(), 0) < fridge.Now().air);
  fridge.Step(48h);
  // The room's 20 °C, and what fan and rinds add against the insulation.
  CHECK(fridge.Now().air > 20);
  CHECK(fridge.Now().air < 22);
  fridge.Do({.kind = Mishap::Kind::kCompressorMended});
  fridge.Step(12h);
  CHECK(fridge.Now().air == Approx(12.5).margin(1));
}

TEST_CASE("a door left ajar overruns the plant, ices the coil or wets it, and heals when shut") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(12h);
  fridge.Do({.kind = Mishap::Kind::kDoorAjar, .span = 4h});
  fridge.Step(1h);
  CHECK(fridge.Now().air > 14.8);
  CHECK(fridge.Now().air < 20);
  const auto rest = Live(fridge, 3h - 1s);
  CHECK(rest.back().door > 0);
  CHECK(MeanOf(rest, [](const Truth& t) { return t.compressor_runs ? 1.0 : 0.0; }) > 0.95);
  CHECK(Core(rest.back(), 0) > 13.5);
  fridge.Step(2h);
  CHECK(fridge.Now().door == 0);
  CHECK(fridge.Now().air < 14);
}

TEST_CASE("a door left ajar stays so until shut") {
  Fridge fridge{QuietSpec(1)};
  fridge.Do({.kind = Mishap::Kind::kDoorAjar});
  fridge.Step(10h);
  CHECK(fridge.Now().door > 0);
  fridge.Do({.kind = Mishap::Kind::kDoorShut});
  fridge.Step(1s);
  CHECK(fridge.Now().door == 0);
}

TEST_CASE("a heat wave is more than the plant can cope with") {
  FridgeSpec spec = QuietSpec(1);
  spec.room.mean_celsius = 45;
  Fridge fridge{spec};
  fridge.Step(24h);
  CHECK(fridge.Now().air > 14);
}

TEST_CASE("a long run below freezing builds frost, and the next defrost takes it") {
  FridgeSpec spec = QuietSpec(1);
  spec.plant.set_celsius = 4;
  spec.plant.defrost = {.every = 12h, .first = 10h};
  Fridge fridge{spec};
  fridge.Step(10h - 1min);
  const double frost = fridge.Now().frost;
  CHECK(frost > 0.005);
  fridge.Step(30min);
  CHECK(fridge.Now().frost < 0.5 * frost);
}

TEST_CASE("a power cut stops plant and mains probes, others speak on, and all come back") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(2h);
  fridge.Do({.kind = Mishap::Kind::kPowerCut, .span = 1h});
  const Outcome dark = fridge.Step(1h - 1s);
  CHECK_FALSE(dark.truth.power);
  CHECK(dark.truth.electric == 0);
  CHECK_FALSE(dark.truth.compressor_runs);
  int plug = 0, air = 0;
  for (const ProbeReading& reading : dark.readings) (reading.probe == "Plug" ? plug : air) += 1;
  CHECK(plug == 0);
  CHECK(air == 59 * 4);
  const Outcome light = fridge.Step(30min);
  CHECK(light.truth.power);
  CHECK(std::any_of(light.readings.begin(), light.readings.end(),
                    [](const ProbeReading& reading) { return reading.probe == "Plug"; }));
}

TEST_CASE("a silent probe says nothing until it is back, and the others do not notice") {
  Fridge fridge = TypicalFridge(1), whole = TypicalFridge(1);
  fridge.Do({.kind = Mishap::Kind::kProbeSilent, .subject = "box"});
  const Outcome silent = fridge.Step(1h), told = whole.Step(1h);
  std::vector<ProbeReading> others = told.readings;
  std::erase_if(others, [](const ProbeReading& reading) { return reading.probe == "Box"; });
  CHECK(silent.readings == others);
  fridge.Do({.kind = Mishap::Kind::kProbeBack, .subject = "Box"});
  CHECK(fridge.Step(1min).readings.size() == 6);
}

TEST_CASE("a probe silenced for a span comes back by itself") {
  Fridge fridge = TypicalFridge(1);
  fridge.Do({.kind = Mishap::Kind::kProbeSilent, .subject = "Box", .span = 30min});
  int said = 0;
  for (const ProbeReading& reading : fridge.Step(1h).readings) {
    if (reading.probe != "Box") continue;
    ++said;
    CHECK(reading.at >= 30min);
  }
  CHECK(said == 31 * 2);
}

TEST_CASE("a wheel from the counter warms its box, is itself cooled over hours, and may get no dew") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(12h);
  const double box = fridge.Now().boxes[1].celsius;
  fridge.PutWheel({BigWheel("New"), "Box 2", 21});
  fridge.Step(30min);
  CHECK(fridge.Now().boxes[1].celsius > box + 0.5);
  CHECK(Core(fridge.Now(), 9) > 20);
  fridge.Step(24h);
  CHECK(Core(fridge.Now(), 9) == Approx(Core(fridge.Now(), 6)).margin(0.5));
  CHECK(fridge.Now().wheels[9].where == "Box 2");
}

TEST_CASE("a wheel out of the cold gets wet in the box") {
  Fridge fridge{QuietSpec(1)};
  fridge.Step(12h);
  fridge.PutWheel({SmallWheel("Cold"), "Box 1", 3});
  fridge.Step(20min);
  CHECK(fridge.Now().wheels[9].dew > 0);
}

TEST_CASE("a morning's round dumps the box's humidity and it is back within the hour") {
  FridgeSpec spec = QuietSpec(1);
  spec.keeper = {.comes = true, .round_at = 3h, .spread = 0s, .looks_in_the_evening = 0};
  Fridge fridge{spec};
  fridge.Step(3h);
  const double before = fridge.Now().boxes[0].humidity;
  const auto round = Live(fridge, 5min);
  CHECK(LowestOf(round, BoxHumidityOf) < before - 10);
  fridge.Step(1h);
  CHECK(fridge.Now().boxes[0].humidity > 88);
}

TEST_CASE("a mishap with an unknown subject is refused, names what there is, and changes nothing") {
  Fridge fridge = TypicalFridge(1), untouched = TypicalFridge(1);
  const auto refusal = [&](const Mishap& mishap) {
    try {
      fridge.Do(mishap);
    } catch (const std::invalid_argument& error) {
      return std::string{error.what()};
    }
    return std::string{"accepted"};
  };
  CHECK(refusal({.kind = Mishap::Kind::kProbeSilent, .subject = "Cellar"}) ==
        "there is no probe \"Cellar\"; there are: Fridge, Box, Plug");
  CHECK(refusal({.kind = Mishap::Kind::kLid, .subject = "Box 3"}) ==
        "there is no box \"Box 3\"; there are: Box 1, Box 2");
  CHECK(refusal({.kind = Mishap::Kind::kLid, .subject = ""}) == "there is no box \"\"; there are: Box 1, Box 2");
  CHECK_THROWS_AS(fridge.TakeWheel("Nobody"), std::invalid_argument);
  CHECK_THROWS_AS(fridge.PutWheel({SmallWheel("Small 1"), "Box 1", 12}), std::invalid_argument);
  CHECK_THROWS_AS(fridge.PutWheel({SmallWheel("New"), "Box 3", 12}), std::invalid_argument);
  CHECK(fridge.Step(1h).readings == untouched.Step(1h).readings);
}

TEST_CASE("planned mishaps come in their time, whatever the order of planning") {
  Fridge fridge{QuietSpec(1)};
  fridge.Plan(3h, {.kind = Mishap::Kind::kLid, .subject = "Box 1", .lid = Lid::kShut});
  fridge.Plan(1h, {.kind = Mishap::Kind::kLid, .subject = "Box 1", .lid = Lid::kOff});
  fridge.Step(1h);
  CHECK(fridge.Now().boxes[0].lid == Lid::kShut);
  fridge.Step(1s);
  CHECK(fridge.Now().boxes[0].lid == Lid::kOff);
  fridge.Step(2h);
  CHECK(fridge.Now().boxes[0].lid == Lid::kShut);
}

TEST_CASE("a planned wheel comes in its time, and its name is taken from now on") {
  Fridge fridge{QuietSpec(1)};
  fridge.PlanWheel(2h, {SmallWheel("Later"), "Box 2", 18});
  CHECK_THROWS_AS(fridge.PutWheel({SmallWheel("later"), "Box 1", 12}), std::invalid_argument);
  CHECK_THROWS_AS(fridge.PlanWheel(1h, {SmallWheel("Other"), "Box 9", 12}), std::invalid_argument);
  fridge.Step(2h);
  CHECK(fridge.Now().wheels.size() == 9);
  fridge.Step(1s);
  REQUIRE(fridge.Now().wheels.size() == 10);
  CHECK(fridge.Now().wheels[9].core == Approx(18).margin(0.01));
}

TEST_CASE("a probe stuck in a wheel follows its core, and the air once the wheel is gone") {
  FridgeSpec spec = QuietSpec(1);
  spec.probes = {{.name = "Core",
                  .where = "Big 1",
                  .channels = {{rindwatch::rules::ChannelKind::kWheelTemperature, 0s, 0, 0, 0}}}};
  spec.wheels[6].celsius = 18;
  Fridge fridge{spec};
  const Outcome outcome = fridge.Step(1h);
  CHECK(outcome.readings.back().value == Approx(Core(outcome.truth, 6)).margin(0.02));
  fridge.TakeWheel("Big 1");
  const Outcome left = fridge.Step(1min);
  CHECK(left.readings.back().value == Approx(left.truth.boxes[1].celsius).margin(0.2));
}

TEST_CASE("wheels on the open racks dry faster than in a box") {
  FridgeSpec spec = QuietSpec(1);
  spec.wheels.push_back({SmallWheel("Bare"), "", 12.5});
  Fridge fridge{spec};
  fridge.Step(24h);
  const Truth truth = fridge.Now();
  CHECK(truth.wheels[9].where.empty());
  CHECK(truth.wheels[9].grams < truth.wheels[0].grams - 2);
}
