// What is named of the air that doors, warm goods and defrosts of simulated fridges make. A wrong name is worse than
// none: "warm in" and "your round" are said only of what a keeper told, a door only of drier air, a defrost only of
// what comes again. Invented fridges: cooler and warmer rooms, empty and with four wheels of 2 kg, the door of the case
// a hand's width or wide open.
//
// Over seeds 1 to 14, 28 fridges for each figure; "-" is no name, and none is wrong:
//
//                     minutes   5                     15                   30 to 90
//   door, nobody known, ajar    4 door, 2 w, 22 -     18 door, 8 w, 2 -    26 door, 2 -   (w: "warmed"; at 90: 24, 4)
//   the same, wide open         28 door               28 door              28 door (at 90: 26 door, 2 -, as it rang)
//   a tick after 3 min, ajar    16 round, 12 -        26 round, 2 -        26 door, 2 -
//   the same, wide open         28 round              28 round             28 door (at 90 as above)
//
//   warm wheels of 2 kg         1          3          6          12        (the door wide open for 6 min)
//   entered half an hour after  28 in      28 in      28 in      28 in
//   "I am here" alone           28 round   28 round   28 round   1 in, 27 round
//   nothing told                27 door,   27 door,   27 door,   25 door,  (a door it was: somebody opened it)
//                               1 w        1 w        1 w        3 w
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "sensors/simulated/fridge.hpp"
#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using namespace rules;
using namespace sensors::simulated;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

constexpr CaveId kFridge = 1;

WheelIn TwoKilos(const std::string& name, double celsius) {
  return {WheelSpec{name, {.radius = 0.1, .height = 0.0595}, {}, {0.95, 0.25, 0.4}}, "", celsius};
}

FridgeSpec Spec(int seed, bool wide, bool full) {
  Random chance{static_cast<std::uint64_t>(seed), 7};
  FridgeSpec spec;
  spec.seed = static_cast<std::uint64_t>(seed);
  spec.begins_celsius = 12.3;
  spec.begins_humidity = 86;
  spec.room.mean_celsius = chance.Between(18.5, 22);
  spec.plant.set_celsius = 12.6;
  spec.humidifier.fitted = true;
  spec.cabinet.liner_heat = 45000;
  spec.cabinet.liner_area = 2.4;
  spec.cabinet.wall_loss = 1.35;
  if (wide) spec.door.ajar = 1;
  for (int n = 0; full && n < 4; ++n) spec.wheels.push_back(TwoKilos("There " + std::to_string(n), 12.3));
  spec.probes = {{.name = "air",
                  .where = "",
                  .channels = {{ChannelKind::kTemperature, minutes{3}, 0.03, 0.1, 0},
                               {ChannelKind::kHumidity, seconds{40}, 0.25, 0.1, 0}},
                  .on_mains = true}};
  return spec;
}

// A fridge and its watch; a copy goes on by itself.
struct Watched {
  Fridge fridge;
  EngineState state{};
  Instant at = std::chrono::sys_days{std::chrono::year{2026} / 3 / 12};

  explicit Watched(const FridgeSpec& spec) : fridge(spec) {
    Step(state, CaveGiven{kFridge, {}, {}, Figure{10.5, 14.5, ""}, Figure{75, 95, ""}}, at);
    LayWheel(1, false);
    Step(state, ChannelHung{1, 1, ChannelKind::kTemperature, kFridge}, at);
    Step(state, ChannelHung{2, 1, ChannelKind::kHumidity, kFridge}, at);
  }
  void LayWheel(WheelId wheel, bool now) {
    WheelGiven given{wheel, kFridge, {}, Grams{2000}};
    given.laid_now = now;
    Step(state, given, at);
  }
  void Live(minutes span) {
    for (minutes passed{0}; passed < span; ++passed) {
      at += minutes{1};
      const Outcome outcome = fridge.Step(minutes{1});
      for (const ProbeReading& said : outcome.readings) {
        Reading reading;
        reading.channel = said.kind == ChannelKind::kTemperature ? 1 : 2;
        reading.measured_at = reading.received_at = at;
        reading.milli = std::llround(said.value * 1000);
        reading.marks = With(0, Mark::kLive);
        Step(state, reading, at);
      }
    }
  }
  void OpenFor(minutes span) { fridge.Do({.kind = Mishap::Kind::kDoorAjar, .span = span}); }
  void PutWarm(int count) {
    for (int n = 0; n < count; ++n) fridge.PutWheel(TwoKilos("Warm " + std::to_string(n), 18 + 2 * (count % 3)));
  }
  // What was named of the air that rose between the two.
  std::string NamedOf(Instant from, Instant to) const {
    for (const Shape& shape : state.View(kFridge, at).shapes) {
      if (shape.from >= from && shape.from <= to) return std::string(ToText(shape.kind));
    }
    return "-";
  }
};

using Tally = std::map<std::string, int>;

std::string Told(const Tally& tally) {
  std::string text;
  for (const auto& [name, count] : tally) text += std::to_string(count) + " " + name + "  ";
  return text;
}

int Seeds() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? std::max(3, std::atoi(more)) : 3;
}

struct Behind {
  Watched watched;
  bool wide;
};

// Each fridge with four days behind it, at another hour. Lived once.
const std::vector<Behind>& Fridges() {
  static const std::vector<Behind> fridges = [] {
    std::vector<Behind> all;
    for (int seed = 1; seed <= Seeds(); ++seed) {
      for (const int kind : {0, 1, 2, 3}) {
        const bool wide = kind % 2 == 1;
        all.push_back({Watched{Spec(seed, wide, kind > 1)}, wide});
        all.back().watched.Live(days{4} + hours{9 + seed * 5 % 14} + minutes{seed % 7 * 8});
      }
    }
    return all;
  }();
  return fridges;
}

// What the air of a door of so many minutes is called; `told` is done after the third.
Tally TallyOf(minutes open, bool wide_open, int warm, const std::function<void(Watched&)>& told) {
  Tally tally;
  for (const Behind& behind : Fridges()) {
    if (behind.wide != wide_open) continue;
    Watched watched = behind.watched;
    const Instant from = watched.at;
    watched.OpenFor(open);
    watched.PutWarm(warm);
    watched.Live(minutes{3});
    if (told) told(watched);
    watched.Live(2 * open + minutes{60});
    ++tally[watched.NamedOf(from, from + open + minutes{5})];
  }
  return tally;
}

void Tick(Watched& watched) { Step(watched.state, KeeperTended{kFridge}, watched.at); }
void SayHere(Watched& watched) { Step(watched.state, KeeperHere{kFridge}, watched.at); }

int Of(const Tally& tally, const char* name) { return tally.contains(name) ? tally.at(name) : 0; }

// Everything is called by one of these.
void CheckOnly(Tally tally, std::initializer_list<const char*> honest) {
  for (const char* name : honest) tally.erase(name);
  CHECK(Told(tally).empty());
}

}  // namespace

TEST_CASE("a door that nobody told of is a door, however long it stood open, or it has no name that says more") {
  for (const bool wide : {false, true}) {
    for (const int open : {5, 15, 30, 60, 90}) {
      const Tally tally = TallyOf(minutes{open}, wide, 0, {});
      INFO(open << " min, " << (wide ? "wide: " : "ajar: ") << Told(tally));
      CheckOnly(tally, {"door", "warmed", "-"});
      const int of = Seeds() * 2;
      // What has rung by then is a door only where the air was dry at once.
      const bool all = wide && open < 90;
      CHECK((all ? Of(tally, "door") == of : open < 30 || Of(tally, "door") * 2 >= of));
    }
  }
}

TEST_CASE("after a tick the air is your round; where it does not turn for long after it, the door was left open") {
  for (const bool wide : {false, true}) {
    for (const int open : {5, 15, 30, 60, 90}) {
      const Tally tally = TallyOf(minutes{open}, wide, 0, Tick);
      INFO(open << " min, " << (wide ? "wide: " : "ajar: ") << Told(tally));
      CheckOnly(tally, {open >= 30 ? "door" : "your round", "-"});
      if (wide && open < 90) CHECK_FALSE(tally.contains("-"));
    }
  }
}

TEST_CASE("warm wheels are warm in when a keeper enters them, also a while after; else a door, or somebody's round") {
  for (const int warm : {1, 3, 6, 12}) {
    const Tally entered = TallyOf(minutes{6}, true, warm, [](Watched& watched) {
      watched.Live(minutes{25});
      watched.LayWheel(9, true);
    });
    const Tally here = TallyOf(minutes{6}, true, warm, SayHere), nothing = TallyOf(minutes{6}, true, warm, {});
    INFO(warm << " wheels; entered: " << Told(entered) << "; here: " << Told(here) << "; nothing: " << Told(nothing));
    CheckOnly(entered, {"delivery"});
    CheckOnly(here, {"your round", "delivery"});
    CheckOnly(nothing, {"door", "warmed"});
  }
}

TEST_CASE("on quiet days each defrost is a defrost from its second or third on, and no morning's door ever is") {
  int defrosts = 0, named = 0, wrong = 0;
  std::string told;
  for (int seed = 1; seed <= Seeds(); ++seed) {
    Watched watched{Spec(seed, false, seed % 2 == 0)};
    watched.Live(days{3});
    std::vector<Instant> begun;
    bool defrosted = false;
    for (const Instant end = watched.at + days{5}; watched.at < end; watched.Live(minutes{1})) {
      const bool defrosts_now = watched.fridge.Now().defrosts;
      if (defrosts_now && !defrosted) begun.push_back(watched.at);
      defrosted = defrosts_now;
    }
    watched.Live(minutes{30});
    const std::vector<Shape> shapes = watched.state.View(kFridge, watched.at).shapes;
    const auto belongs = [](const Shape& shape, Instant at) {
      return shape.from >= at - minutes{5} && shape.from <= at + minutes{30};
    };
    for (const Instant at : begun) {
      ++defrosts;
      named += static_cast<int>(std::ranges::any_of(
          shapes, [&](const Shape& shape) { return shape.kind == ShapeKind::kDefrost && belongs(shape, at); }));
    }
    for (const Shape& shape : shapes) {
      if (shape.from < begun.front()) continue;
      const bool defrost = std::ranges::any_of(begun, [&](Instant at) { return belongs(shape, at); });
      const bool right = defrost == (shape.kind == ShapeKind::kDefrost);
      wrong += static_cast<int>(!right);
      if (!right)
        told += std::string(ToText(shape.kind)) + " at " + ToText(shape.from) + ", seed " + std::to_string(seed) + "; ";
    }
  }
  INFO(named << " of " << defrosts << "; " << told);
  CHECK(defrosts >= Seeds() * 9);
  CHECK(named * 100 >= defrosts * 95);
  CHECK(wrong == 0);
}

}  // namespace rindwatch
