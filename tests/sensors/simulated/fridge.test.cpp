#include "sensors/simulated/fridge.hpp"

#include <stdexcept>

#include "tests/catch.hpp"
#include "tests/sensors/simulated/fridges.hpp"

using namespace rindwatch::sensors::simulated;
using namespace std::chrono_literals;
using std::chrono::seconds;

TEST_CASE("heat and water are only moved: both balances close over three days with all that can happen") {
  Fridge fridge = TypicalFridge(3);
  const double energy = fridge.Energy(), water = fridge.Water();
  double through = 0;
  const auto live = [&](seconds span) {
    const double before = fridge.Border().heat;
    fridge.Step(span);
    through += std::abs(fridge.Border().heat - before);
  };
  for (int i = 0; i < 24 * 60; ++i) live(60s);
  fridge.Do({.kind = Mishap::Kind::kDoorAjar, .span = 3h});
  fridge.PutWheel({SmallWheel("Late"), "Box 1", 21});
  for (int i = 0; i < 6 * 60; ++i) live(60s);
  fridge.Do({.kind = Mishap::Kind::kLid, .subject = "Box 1", .lid = Lid::kOff});
  fridge.Do({.kind = Mishap::Kind::kPowerCut, .span = 5h});
  for (int i = 0; i < 12 * 60; ++i) live(60s);
  fridge.TakeWheel("Late");
  for (int i = 0; i < 30 * 60 + 7; ++i) live(59s);
  REQUIRE(through > 1e6);
  CHECK(std::abs(fridge.Energy() - energy - fridge.Border().heat) < 1e-9 * through);
  CHECK(fridge.Water() - water == Approx(fridge.Border().water).margin(1e-9));
}

TEST_CASE("one seed gives one outcome, another seed another") {
  Fridge one = TypicalFridge(11), same = TypicalFridge(11), other = TypicalFridge(12);
  const Outcome a = one.Step(24h), b = same.Step(24h), c = other.Step(24h);
  CHECK(a.readings == b.readings);
  CHECK(a.truth == b.truth);
  CHECK(a.readings != c.readings);
}

TEST_CASE("how a span is cut into steps changes nothing, be it seconds or hours") {
  Fridge whole = TypicalFridge(4), cut = TypicalFridge(4);
  const Outcome at_once = whole.Step(6h);
  std::vector<ProbeReading> readings;
  const seconds cuts[] = {1s, 7s, 10s, 59s, 60s, 3s};
  std::size_t n = 0;
  while (cut.Elapsed() < 6h) {
    const seconds step = std::min(cuts[n++ % std::size(cuts)], seconds{6h} - cut.Elapsed());
    const Outcome part = cut.Step(step);
    readings.insert(readings.end(), part.readings.begin(), part.readings.end());
  }
  CHECK(readings == at_once.readings);
  CHECK(cut.Now() == at_once.truth);
}

TEST_CASE("a copy goes on exactly as the original, and what befalls the one leaves the other alone") {
  Fridge fridge = TypicalFridge(4);
  fridge.Step(2h);
  Fridge copy = fridge;
  Fridge unlucky = fridge;
  unlucky.Do({.kind = Mishap::Kind::kCompressorDead});
  unlucky.Step(5h);
  CHECK(copy.Step(5h).readings == fridge.Step(5h).readings);
  CHECK(unlucky.Now().air > fridge.Now().air + 1);
}

TEST_CASE("no step, or a step back, does nothing") {
  Fridge fridge = TypicalFridge(4);
  CHECK(fridge.Step(0s).readings.empty());
  CHECK(fridge.Step(-5s).readings.empty());
  CHECK(fridge.Elapsed() == 0s);
}

TEST_CASE("readings come at each probe's interval, in the order of time") {
  Fridge fridge = TypicalFridge(4);
  const Outcome outcome = fridge.Step(10min);
  // Two probes with two channels each minute, a plug each half minute.
  CHECK(outcome.readings.size() == 10 * 4 + 20);
  for (std::size_t i = 1; i < outcome.readings.size(); ++i) {
    CHECK(outcome.readings[i - 1].at <= outcome.readings[i].at);
  }
  CHECK(outcome.readings.front().at == 30s);
  CHECK(outcome.readings.back().at == 600s);
}

TEST_CASE("a fridge that contradicts itself is refused") {
  const auto refused = [](auto change) {
    FridgeSpec spec = TypicalSpec(1);
    change(spec);
    CHECK_THROWS_AS(Fridge{spec}, std::invalid_argument);
  };
  refused([](FridgeSpec& s) { s.boxes.push_back(s.boxes[0]); });
  refused([](FridgeSpec& s) { s.wheels.push_back(s.wheels[0]); });
  refused([](FridgeSpec& s) { s.probes.push_back(s.probes[0]); });
  refused([](FridgeSpec& s) { s.wheels[0].where = "Box 9"; });
  refused([](FridgeSpec& s) { s.probes[0].where = "Box 9"; });
  refused([](FridgeSpec& s) { s.mishaps.push_back({1h, {.kind = Mishap::Kind::kProbeSilent, .subject = "No"}}); });
}
