// What the ribbon of a cave names of the air that a simulated fridge makes: cycles of the plant are nothing; defrosts,
// doors, deliveries and the keeper's round are known by their shapes. An invented fridge.
#include <algorithm>

#include "sensors/simulated/fridge.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using namespace sensors::simulated;
using std::chrono::floor;
using std::chrono::seconds;

constexpr auto kFrom = 72h;  // the day that is looked at; what came before is learned
// After its beginning.
constexpr auto kDoor = 4h, kRound = 9h, kDelivery = 17h;

FridgeSpec Spec() {
  FridgeSpec spec;
  spec.seed = 11;
  spec.begins_celsius = 12.3;
  spec.begins_humidity = 86;
  spec.plant.set_celsius = 12.6;
  spec.humidifier.fitted = true;
  spec.cabinet.liner_heat = 45000;
  spec.cabinet.liner_area = 2.4;
  spec.cabinet.wall_loss = 1.35;
  spec.door.ajar = 1;  // what this keeper forgets stands wide open
  spec.probes = {{.name = "air",
                  .where = "",
                  .channels = {{rules::ChannelKind::kTemperature, std::chrono::minutes{3}, 0.03, 0.1, 0},
                               {rules::ChannelKind::kHumidity, seconds{40}, 0.25, 0.1, 0}},
                  .on_mains = true}};
  const auto ajar = [&](rules::Millis at, rules::Millis span) {
    spec.mishaps.push_back({floor<seconds>(at), {.kind = Mishap::Kind::kDoorAjar, .span = floor<seconds>(span)}});
  };
  ajar(kFrom + kDoor, 15min);
  ajar(kFrom + kRound, 15min);
  spec.mishaps.push_back({floor<seconds>(kFrom + kDelivery), {.kind = Mishap::Kind::kDelivery, .span = 45min}});
  return spec;
}

struct Named {
  std::string kind;
  rules::Instant from, until;
};

std::vector<Named> MarksOf(const json::object& page) {
  std::vector<Named> marks;
  for (const json::value& one : page.at("cave").at("ribbon").at("marks").as_array()) {
    const json::object& mark = one.as_object();
    const auto at = rules::FromMillis(mark.at("at").to_number<std::int64_t>());
    const auto until = mark.contains("until") ? rules::FromMillis(mark.at("until").to_number<std::int64_t>()) : at;
    marks.push_back({std::string(mark.at("kind").as_string()), at, until});
  }
  return marks;
}

}  // namespace

TEST_CASE(
    "a simulated day's ribbon names defrosts, a door, a delivery and the round, and none of the plant's many cycles") {
  TempFolder folder;
  const rules::Instant begin = kThursday - 6h;
  Household house{folder / "rind.db", begin};
  house.Begin();
  house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  house.Do("enter", InTheBox(PressedWheels(2, InCave(1), 8), 6));
  Fridge fridge{Spec()};
  int cycles = 0;
  bool runs = false;
  const rules::Instant day = begin + kFrom, end = day + 24h;
  while (house.Now() < end) {
    house.StepTo(house.Now() + 2min);
    const Outcome outcome = fridge.Step(seconds{120});
    if (house.Now() >= day) cycles += outcome.truth.compressor_runs && !runs;
    runs = outcome.truth.compressor_runs;
    std::vector<rules::Reading> readings;
    for (const ProbeReading& said : outcome.readings) {
      const bool warmth = said.kind == rules::ChannelKind::kTemperature;
      readings.push_back(house.Reading(warmth ? 1 : 2, said.value));
    }
    if (!readings.empty()) house.Keep(std::move(readings));
    if (house.Now() == day + kDelivery + 1h) house.Do("enter", PressedWheels(1, InCave(1), 3));
    if (house.Now() == day + kRound + 10min) house.Do("care", Care({1}, {"turn"}));
  }
  const std::vector<Named> marks = MarksOf(house.See("/api/caves/1"));
  std::string told;
  for (const Named& mark : marks) told += mark.kind + " " + ToText(mark.from) + " to " + ToText(mark.until) + "\n";
  INFO(told);
  CHECK(cycles > 30);
  const auto of_day = [&](const char* kind) {
    std::vector<Named> named;
    std::ranges::copy_if(marks, std::back_inserter(named),
                         [&](const Named& mark) { return mark.kind == kind && mark.from >= day; });
    return named;
  };
  const auto near = [&](const Named& mark, rules::Millis at) {
    return mark.from >= day + at - 5min && mark.from <= day + at + 25min && mark.until > mark.from;
  };
  // Twice a day, by the fridge's own clock.
  const auto defrosts = of_day("defrost");
  REQUIRE(defrosts.size() == 2);
  CHECK(defrosts[1].from - defrosts[0].from > 11h);
  const auto doors = of_day("door"), rounds = of_day("your round"), deliveries = of_day("delivery");
  REQUIRE(doors.size() == 1);
  CHECK(near(doors[0], kDoor));
  REQUIRE(rounds.size() == 1);
  CHECK(near(rounds[0], kRound));
  REQUIRE(deliveries.size() == 1);
  CHECK(near(deliveries[0], kDelivery));
  // The tick itself.
  const auto ticks = of_day("round");
  REQUIRE(ticks.size() == 1);
  CHECK(ticks[0].from == day + kRound + 10min);
  // How long the plant's cycle is now, drawn once and up to now; nothing else at all.
  const auto plant = of_day("plant cycle");
  REQUIRE(plant.size() == 1);
  CHECK(plant[0].until == end);
  CHECK(marks.size() == 7);
}

}  // namespace rindwatch
