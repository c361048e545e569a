// A watch whose clock was a day ahead for a while and was set back: what it says once that is believed.
#include <optional>
#include <set>
#include <utility>

#include "daemon/house/set_back.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// Its probe spoke until 10:00; then the clock went a day forward, for ten minutes, in which somebody wrote a note; at
// 10:40 it was set back, and was believed.
struct Ahead {
  static constexpr rules::Millis kWent = 1h, kBelieved = kWent + 40min;

  // `held`: once the clock is back its probe says this each minute, until the clock is believed; `first` before it,
  // once. Not `believed`: not yet.
  explicit Ahead(std::optional<double> held = std::nullopt, std::optional<double> first = std::nullopt,
                 bool believed = true) {
    Open(kThursday);
    house->Begin();
    house->Do("probe", AirProbe("Air", "fridge/air", NewCave("fridge")));
    house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
    Air(kWent);
    house->StepTo(kThursday + 24h + kWent);
    Air(24h + kWent + 10min);
    note = std::string(house->Do("note", {{"text", "Turned all."}}).at("id").as_string());
    if (held) Hold(*held, first.value_or(*held));
    Open(kThursday + kBelieved);
    if (!believed) {
      house->TheWatch().Begin({});
      house->Settle();
      return;
    }
    const auto until = SetBackIfAhead(house->TheStore(), house->Now());
    REQUIRE(until);
    house->TheWatch().Begin(until);
    house->Settle();
  }
  void Open(rules::Instant now) {
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    house->SetActs(acts += 1000);
  }
  void Air(rules::Millis until) {
    while (house->Now() < kThursday + until) {
      house->StepTo(house->Now() + 1min);
      house->Reads(12.4 + 0.1 * (++said % 2), 85);
      house->Settle();
    }
  }
  void Hold(double value, double first) {
    Open(kThursday + kBelieved - 8min);
    house->TheStore().Start([](const Committed&) {});
    while (house->Now() < kThursday + kBelieved) {
      rules::Reading reading = house->Reading(1, std::exchange(first, value));
      reading.source = rules::TimeSource::kHeld;
      reading.marks = 0;
      house->Keep({reading});
      house->StepTo(house->Now() + 1min);
    }
  }
  json::array Lines() { return house->See("/api/journal").at("lines").as_array(); }
  json::object Started() {
    const json::array lines = Lines();
    for (const json::value& line : lines)
      if (line.as_object().contains("ahead_until")) return line.as_object();
    return {};
  }

  TempFolder folder;
  std::unique_ptr<Household> house;
  std::uint64_t acts = 0;
  std::string note;
  int said = 0;
};

TEST_CASE("once a clock that was ahead is believed to be right, no row and no alarm tells of what never was") {
  Ahead ahead;
  const json::array lines = ahead.Lines();
  for (const json::value& line : lines) {
    if (line.at("kind").as_string() == "note") continue;
    CHECK(line.at("at").to_number<std::int64_t>() <= ToMillis(ahead.house->Now()));
  }
  CHECK(ahead.house->See("/api/alarms").at("past").as_array().empty());
}

TEST_CASE("for how long nobody watched by a right clock is told as any other gap") {
  Ahead ahead;
  const json::array alarms = ahead.house->See("/api/caves").at("head").at("alarms").as_array();
  REQUIRE(alarms.size() == 1);
  const json::object gap = alarms.front().as_object();
  CHECK(gap.at("kind").as_string() == "unwatched");
  CHECK(gap.at("since").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kWent));
  CHECK(gap.at("back_since").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kBelieved));
  const json::object unwatched = ahead.Started().at("unwatched").as_object();
  CHECK(unwatched.at("from").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kWent));
  // Of a probe that has had no time to speak nobody says that it is silent.
  const std::string head = json::serialize(ahead.house->See("/api/caves").at("head"));
  CHECK_THAT(head, Says("Fridge is unknown since 10:00: nobody watched to 10:40.") && !Says("silent"));
  ahead.Air(Ahead::kBelieved + 2min);
  CHECK(ahead.house->See("/api/caves/1").at("cave").at("state").as_string() != "unknown");
}

TEST_CASE(
    "what a probe said before a clock that was set back is believed is the air of that gap, not what came later") {
  Ahead ahead(12.4);
  ahead.house->StepTo(ahead.house->Now() + 1min);
  ahead.house->Reads(19.1, 85);
  ahead.house->StepTo(ahead.house->Now() + 1min);
  ahead.house->Reads(19.1, 85);
  const json::array past = ahead.house->See("/api/alarms").at("past").as_array();
  REQUIRE(past.size() == 1);
  const json::object gap = past.front().as_object();
  CHECK(gap.at("kind").as_string() == "unwatched");
  CHECK(gap.at("why").as_string() == "only the watch");
  CHECK(gap.at("before").to_number<double>() == Approx(12.4).margin(0.11));
  CHECK(gap.at("value").to_number<double>() == Approx(12.4));
}

TEST_CASE("air that was warm before a clock that was set back is believed has warmed in that gap") {
  Ahead ahead(18.2);
  const json::array past = ahead.house->See("/api/alarms").at("past").as_array();
  REQUIRE(past.size() == 1);
  CHECK(past.front().at("why").as_string() == "warmed meanwhile");
  CHECK(past.front().at("value").to_number<double>() == Approx(18.2));
  CHECK(past.front().at("severity").as_string() == "watch");
}

TEST_CASE("what a thermometer says before it has measured once is no air of the gap: the next word is") {
  Ahead ahead(12.4, 85.0);
  const json::array past = ahead.house->See("/api/alarms").at("past").as_array();
  REQUIRE(past.size() == 1);
  CHECK(past.front().at("why").as_string() == "only the watch");
  CHECK(past.front().at("value").to_number<double>() == Approx(12.4));
}

TEST_CASE("a probe that spoke until a clock was believed is not silent a moment later, and what it said was kept") {
  Ahead ahead(12.4);
  const json::object cave = ahead.house->See("/api/caves/1").at("cave").as_object();
  const std::string told = json::serialize(ahead.house->See("/api/caves"));
  CHECK_THAT(told, Says("nobody watched to 10:40") && !Says("probe Air silent"));
  CHECK_FALSE(cave.at("temperature").as_object().contains("silent_since"));
  const json::array gaps = cave.at("gaps").as_array();
  REQUIRE(gaps.size() == 1);
  CHECK(gaps.front().at("from").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kWent));
  CHECK(gaps.front().at("to").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kBelieved - 8min));
  const json::array held = cave.at("held").as_array();
  REQUIRE(held.size() == 1);
  CHECK(held.front().at("from") == gaps.front().at("to"));
  CHECK(held.front().at("to").to_number<std::int64_t>() == ToMillis(kThursday + Ahead::kBelieved));
  // Where nothing comes any more, that is told as ever.
  ahead.house->StepTo(kThursday + Ahead::kBelieved + 90min);
  const json::array later = ahead.house->See("/api/caves/1").at("cave").at("gaps").as_array();
  REQUIRE(later.size() == 2);
  CHECK(later.back().at("to").to_number<std::int64_t>() == ToMillis(ahead.house->Now()));
}

TEST_CASE("of a cave whose probes said nothing while a clock was not believed nothing was kept") {
  Ahead ahead(12.4);
  ahead.house->Do("probe", AirProbe("Room air", "room/air", NewCave("room")));
  CHECK_FALSE(ahead.house->See("/api/caves/2").at("cave").as_object().contains("held"));
  CHECK(ahead.house->See("/api/caves/1").at("cave").as_object().contains("held"));
}

// What two pages tell of what the journal holds up to `position`, and of what kind.
std::multiset<std::string> KindsUpTo(Ahead& ahead, std::int64_t position) {
  std::multiset<std::string> kinds;
  for (const char* place : {"/api/journal", "/api/caves/1"}) {
    const json::object page = ahead.house->See(place);
    const json::value* rows = page.if_contains("lines");
    for (const json::value& line : (rows ? *rows : page.at("journal")).as_array()) {
      if (line.at("position").to_number<std::int64_t>() <= position) kinds.emplace(line.at("kind").as_string());
    }
  }
  return kinds;
}

TEST_CASE("what the watch wrote by a clock that was ahead has no row, neither before it is believed nor in its hour") {
  Ahead before(std::nullopt, std::nullopt, false);
  const auto early = KindsUpTo(before, 1'000'000);
  CHECK(early.count("alarm") == 0);
  CHECK(early.count("note") == 1);
  Ahead after;
  const auto started = after.Started().at("position").to_number<std::int64_t>();
  after.house->StepTo(kThursday + 48h);
  const auto late = KindsUpTo(after, started);
  CHECK(late.count("alarm") == 0);
  CHECK(late.count("note") == 1);
  CHECK(KindsUpTo(after, 1'000'000).count("alarm") > 0);
}

TEST_CASE("the row of a clock that was set back names the acts that bear a wrong time, until they are struck out") {
  Ahead ahead;
  const json::array acts = ahead.Started().at("misdated").as_array();
  REQUIRE(acts.size() == 1);
  CHECK(acts.front().at("at").to_number<std::int64_t>() == ToMillis(kThursday + 24h + Ahead::kWent + 10min));
  ahead.house->Do("undo", {{"of", ahead.note}});
  CHECK_FALSE(ahead.Started().contains("misdated"));
}

}  // namespace
}  // namespace rindwatch
