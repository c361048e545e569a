// What only some alarms tell: gas, contacts, hours on the terminal.
#include <algorithm>
#include <regex>

#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("what is over and not yet seen stands on the terminal with its hours, and what is back says so") {
  WatchedFridge watched;
  watched.Ring();
  watched.Read(12, 1h);
  const auto text = [&] { return NowText(Words::English(), watched.house.See("/api/caves")); };
  CHECK_THAT(text(), Says("back in band") && !Says("out of band"));
  CHECK_THAT(watched.house.Get("/api/round/text").body, Says("back in band") && !Says("out of band"));
  watched.Read(12, 3h);
  CHECK(std::regex_search(text(), std::regex(R"(   Fridge too warm, \d\d:\d\d to \d\d:\d\d, over, not yet seen)")));
  CHECK_THAT(text(), !Says("back in band"));
}

TEST_CASE("air that never left its band is not back in it, whatever alarm of it stands") {
  WatchedFridge watched;
  watched.Ring();
  watched.Read(12, 1h);
  json::object caves = watched.house.See("/api/caves");
  const std::regex back(R"(\nFridge +back in band)");
  REQUIRE(std::regex_search(NowText(Words::English(), caves), back));
  for (json::value& alarm : caves.at("head").as_object().at("alarms").as_array()) {
    alarm.as_object().erase("inside");
    alarm.as_object().erase("ends_at");
  }
  CHECK_FALSE(std::regex_search(NowText(Words::English(), caves), back));
}

TEST_CASE(
    "what is urgent and not taken says so in the list, in its subject and in its line, and leads a watch of gas") {
  WatchedFridge watched;
  watched.house.Do("probe", {{"name", "Gas"},
                             {"topic", "fridge/gas"},
                             {"format", "json"},
                             {"channels", json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}}},
                             {"where", InCave(1)}});
  const auto read = [&](double degrees, rules::Millis span) {
    for (const rules::Instant end = watched.house.Now() + span; watched.house.Now() < end;) {
      watched.house.Keep({watched.house.Reading(3, 3200)});
      watched.Read(degrees, 5min);
    }
  };
  read(12, 3h);
  read(-2, 4h);
  const std::string list = watched.house.Get("/api/round/text").body;
  CHECK(list.find("Urgent: Fridge too cold") < list.find("carbon dioxide"));
  const auto line = list.find("!! Urgent: Fridge too cold");
  REQUIRE(line != std::string::npos);
  CHECK(line < list.find("carbon dioxide", list.find("!!")));
  const json::array standing = watched.Standing();
  REQUIRE(standing.size() > 1);
  CHECK(standing.front().at("kind") == "too cold");
  watched.house.Do("take", {{"alarm", standing.front().at("id")}});
  CHECK_THAT(watched.house.Get("/api/round/text").body, !Says("Urgent:"));
}

TEST_CASE("the terminal says of air since when, which figure, what to keep, and which wheels it matters to") {
  WatchedFridge watched;
  watched.Ring();
  const std::string now = NowText(Words::English(), watched.house.See("/api/caves"));
  CHECK(std::regex_search(
      now,
      std::regex(
          R"(Fridge too warm since \d\d:\d\d, 17\.\d °C, keep [\d.]+ to [\d.]+\n   It matters to:\n     6 bloomies, Fridge)")));
}

TEST_CASE(
    "air that stays within its band near the edge says on the terminal since when, and in the end by what it ended") {
  WatchedFridge watched;
  const std::string id = watched.Ring();
  const double edge = Part(Part(watched.Page(id), "alarm"), "band").at("high").to_number<double>();
  watched.Read(edge - 0.2, 6h);
  const std::string now = NowText(Words::English(), watched.house.See("/api/caves"));
  CHECK(std::regex_search(now,
                          std::regex(R"(back in the band since \d\d:\d\d, not yet over: it ends below 1\d\.\d °C)")));
  CHECK_FALSE(Part(watched.Page(id), "alarm").contains("ended_by"));
  watched.Read(edge - 0.2, 20h);
  const json::object over = Part(watched.Page(id), "alarm");
  REQUIRE(over.contains("over"));
  const std::string by = "It ended by 24 h within its band, though near the edge of it.";
  CHECK(Text(over, "ended_by") == by);
  const std::string list = watched.house.Get("/api/round/text").body;
  CHECK_THAT(std::regex_replace(list, std::regex(R"(\s+)"), " "), Says(by));
}

TEST_CASE(
    "of an alarm whose air nobody knows any more no figure of before is told, and another thermometer is asked for") {
  WatchedFridge watched;
  const std::string id = watched.Ring();
  watched.Read(12, 55min);
  REQUIRE(Part(watched.Page(id), "alarm").contains("inside"));
  watched.house.StepTo(watched.house.Now() + 40min);
  const json::object alarm = Part(watched.Page(id), "alarm");
  REQUIRE_FALSE(alarm.contains("over"));
  CHECK_FALSE(alarm.contains("value"));
  CHECK_FALSE(alarm.contains("inside"));
  CHECK_FALSE(alarm.contains("matters"));
  for (const json::value& one : List(alarm, "concerns")) CHECK_FALSE(one.as_object().contains("soonest"));
  CHECK(List(alarm, "first").front().as_string() == "Another thermometer beside it.");
  const std::string warnings = json::serialize(List(alarm, "warnings"));
  CHECK_THAT(warnings, Says("Nobody knows its air now, since ") && Says("Until then it was back in its band, since "));
  const std::string list = std::regex_replace(watched.house.Get("/api/round/text").body, std::regex(R"(\s+)"), " ");
  CHECK_THAT(list, Says("Nobody knows its air now") && !Says("17.0 °C"));
}

TEST_CASE("of two thermometers the list has their mean alone, and the terminal says when they contradict each other") {
  WatchedFridge fridge;
  fridge.house.Do("probe", AirProbe("Door air", "fridge/door", InCave(1)));
  const auto read_both = [&](double shelf, double door, rules::Millis span) {
    const rules::Instant end = fridge.house.Now() + span;
    for (int said = 0; fridge.house.Now() < end; ++said) {
      fridge.house.StepTo(fridge.house.Now() + 5min);
      fridge.house.Reads(shelf + 0.05 * (said % 3), 91 + said % 3);
      fridge.house.Reads(door + 0.05 * (said % 4), 91 + said % 4, 3);
    }
  };
  read_both(11.4, 13.7, 4h);
  CHECK_THAT(fridge.house.Get("/api/round/text").body, Says("12.6 °C") && !Says("by the last reading"));
  read_both(11.4, 16.4, 8h);
  CHECK_THAT(NowText(Words::English(), fridge.house.See("/api/caves")),
             Says("its probes contradict each other: 11.4 to 16.5 °C"));
}

TEST_CASE("gas is told as it is read, with the limits at which people must go") {
  WatchedFridge fridge;
  json::object probe = AirProbe("Gas", "fridge/gas", InCave(1));
  probe["channels"] = json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}};
  fridge.house.Do("probe", probe);
  CHECK_FALSE(List(fridge.Fridge(), "gas").front().at("speaks").as_bool());
  fridge.house.Keep({fridge.house.Reading(3, 5200)});
  const json::object gas = List(fridge.Fridge(), "gas").front().as_object();
  CHECK(Text(gas, "kind") == "carbon dioxide");
  CHECK(gas.at("latest").to_number<double>() == Approx(5200));
  CHECK(gas.at("act").to_number<double>() == Approx(5000));
  CHECK(gas.at("urgent").to_number<double>() == Approx(15000));
  CHECK(gas.at("speaks").as_bool());
}

TEST_CASE("a contact under water is hung like a door's, and dry air says that its humidifier ran dry") {
  WatchedFridge fridge;
  json::object probe = AirProbe("Float", "fridge/float", InCave(1));
  probe["channels"] = json::array{{{"kind", "humidifier water"}, {"pointer", "/water"}, {"unit", "water is 0"}},
                                  {{"kind", "drain water"}, {"pointer", "/drain"}}};
  fridge.house.Do("probe", probe);
  fridge.house.Keep({fridge.house.Reading(3, 0), fridge.house.Reading(4, 1)});
  fridge.Read(12, 1h);
  const auto kinds = [&] {
    std::vector<std::string> all;
    for (const json::array standing = fridge.Standing(); const json::value& alarm : standing)
      all.push_back(Text(alarm.as_object(), "kind"));
    std::ranges::sort(all);
    return all;
  };
  CHECK(kinds() == std::vector<std::string>{"drain blocked", "humidifier dry"});
  const json::object alarm = fridge.Standing().front().as_object();
  CHECK(Text(alarm, "severity") == "watch");
  CHECK(List(alarm, "first").size() == 3);
  // The air follows: one event, and it names what it comes of.
  for (int i = 0; i < 12 * 4; ++i) {
    fridge.house.StepTo(fridge.house.Now() + 5min);
    fridge.house.Reads(12 + 0.05 * (i % 3), 78 + i % 3);
  }
  bool dry = false;
  for (const json::array standing = fridge.Standing(); const json::value& one : standing) {
    const json::object& told = one.as_object();
    if (Text(told, "kind") == "humidifier dry") CHECK(told.at("quiet").as_bool());
    if (Text(told, "kind") != "too dry") continue;
    dry = true;
    CHECK(Text(told, "cause") == "humidifier dry");
  }
  CHECK(dry);
}

}  // namespace
}  // namespace rindwatch
