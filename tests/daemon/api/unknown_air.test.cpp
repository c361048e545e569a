// What is not known of a place, and which probe is why.
#include <algorithm>
#include <regex>

#include "daemon/api/views.hpp"
#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("a place whose probe is stuck says which one and since when") {
  WatchedFridge watched;
  watched.Read(12, 3h);
  for (int i = 0; i < 24 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    watched.house.Reads(12.05, 92);
  }
  const json::object air = Part(watched.Fridge(), "temperature");
  REQUIRE(Text(air, "state") == "unknown");
  CHECK_THAT(Text(air, "unknown_why"), Says("since ") && Says(": probe Fridge air stuck"));
  CHECK_FALSE(air.contains("silent_since"));
  // Which channel, and what it repeats.
  const json::array alarms = watched.Standing();
  const auto stuck =
      std::ranges::find_if(alarms, [](const json::value& one) { return one.at("kind").as_string() == "probe stuck"; });
  REQUIRE(stuck != alarms.end());
  const json::array said = List(stuck->as_object(), "said");
  REQUIRE(said.size() == 2);
  for (const json::value& one : said)
    CHECK(one.at("value").to_number<double>() == Approx(one.at("kind").as_string() == "humidity" ? 92 : 12.05));
  CHECK_THAT(watched.house.Get("/api/round/text").body, Says("Always the same: ") && Says("humidity 92.0 %"));
  watched.Read(12, 1h);
  CHECK_THAT(watched.house.Get("/api/round/text").body, Says("humidity 92.0 %") && Says("stays unknown."));
}

TEST_CASE("air that was out of its band before a cut says nothing of the plant when it is the same after it") {
  WatchedFridge watched;
  watched.Read(12, 3h);
  rules::Alarm alarm;
  alarm.id = "power-gone-1-1";
  alarm.kind = rules::AlarmKind::kPowerGone;
  alarm.cave = 1;
  alarm.since = alarm.raised = watched.house.Now() - 1h;
  alarm.over = watched.house.Now();
  alarm.before = 12.4;
  alarm.extreme = 12.9;
  alarm.warmest = 12.7;
  const auto says = [&] {
    const json::object told = AlarmJson(watched.house.Context(), alarm);
    return told.contains("edges") ? Text(told, "edges") : std::string{};
  };
  REQUIRE(Part(Part(watched.Fridge(), "temperature"), "band").at("high").to_number<double>() < 16);
  CHECK(says() == "The air is as it was before.");
  alarm.before = 16.0;
  alarm.extreme = 16.7;
  CHECK(says().empty());
  alarm.extreme = 17.1;
  CHECK(says() == "It warmed: the plant was without power too, or did not run.");
  // One probe that fell silent says nothing of power, and what stays within the band nothing of the plant.
  alarm.kind = rules::AlarmKind::kProbeSilent;
  CHECK(says() == "It warmed beyond its band: perhaps the plant did not run.");
  alarm.before = 12.4;
  alarm.extreme = 13.5;
  CHECK(says() == "It warmed, and kept its band.");
  alarm.kind = rules::AlarmKind::kPowerGone;
  CHECK(says() == "It warmed, and kept its band.");
  // By what was asked then, whatever is asked there today.
  alarm.band = rules::Figure{8, 13, ""};
  CHECK(says() == "It warmed: the plant was without power too, or did not run.");
}

TEST_CASE("what a stuck probe said is no trace of its cave, neither while it is stuck nor when it is over") {
  WatchedFridge watched;
  watched.Read(12, 4h);
  const std::int64_t began = ToMillis(watched.house.Now());
  for (int i = 0; i < 8 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    watched.house.Reads(12.05, 92);
  }
  const auto unknown_since = [&] {
    const json::object cave = watched.Fridge();
    REQUIRE(cave.contains("doubts"));
    const json::array doubts = List(cave, "doubts");
    REQUIRE(doubts.size() == 2);  // its temperature and its humidity
    const json::object warmth = doubts.front().as_object();
    CHECK(Text(warmth, "channel") == "temperature");
    CHECK(Text(warmth, "kind") == "probe stuck");
    CHECK(Text(warmth, "probe") == "Fridge air");
    for (const json::value& point : List(Part(cave, "ribbon"), "temperature")) {
      const std::int64_t at = point.at(0).to_number<std::int64_t>();
      const bool after = at > Whole(warmth, "from") + 30 * 60'000 && at < Whole(warmth, "to");
      if (after) FAIL_CHECK("a point " << (at - began) / 60'000 << " min after it stood still");
    }
    CHECK(List(cave, "gaps").empty());
    CHECK(std::abs(Whole(warmth, "from") - began) <= 10 * 60'000);
    return warmth;
  };
  CHECK(Whole(unknown_since(), "to") == ToMillis(watched.house.Now()));
  const std::int64_t ended = ToMillis(watched.house.Now());
  watched.Read(12, 3h);
  CHECK(std::abs(Whole(unknown_since(), "to") - ended) <= 10 * 60'000);
  CHECK(List(Part(watched.Fridge(), "ribbon"), "temperature").back().at(0).to_number<std::int64_t>() ==
        ToMillis(watched.house.Now()));
}

TEST_CASE("while a second probe speaks a stuck one leaves nothing unknown, and the trace is the second's") {
  WatchedFridge watched;
  watched.house.Do("probe", AirProbe("Fridge door", "fridge/door", InCave(1)));
  for (int i = 0; i < 12 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    const bool stands = i > 48;
    watched.house.Reads(stands ? 11.0 : 12 + 0.05 * (i % 3), stands ? 92 : 91 + i % 3);
    watched.house.Reads(12 + 0.05 * (i % 3), 91 + i % 3, 3);
  }
  const json::object cave = watched.Fridge();
  CHECK_FALSE(cave.contains("doubts"));
  CHECK(List(Part(cave, "ribbon"), "temperature").back().at(1).to_number<double>() == Approx(12.05).margin(0.1));
}

TEST_CASE("of warm air that nobody knows any more the box in it speaks, and wheels are seen to before the probe") {
  WatchedFridge watched;
  watched.house.Do("probe", AirProbe("Box air", "box/air", NewCaveIn("box", 1)));
  const auto live = [&](std::optional<double> fridge, double box, rules::Millis span) {
    const rules::Instant end = watched.house.Now() + span;
    for (int i = 0; watched.house.Now() < end; ++i) {
      watched.house.StepTo(watched.house.Now() + 5min);
      if (fridge) watched.house.Reads(*fridge + 0.05 * (i % 3), 91 + i % 3);
      watched.house.Reads(box + 0.05 * (i % 3), 91 + i % 3, 3);
    }
  };
  const auto warm = [&] {
    for (const json::array standing = watched.Standing(); const json::value& one : standing)
      if (one.at("kind").as_string() == "too warm") return one.as_object();
    return json::object{};
  };
  live(12, 12, 3h);
  live(17, 16, 4h);
  REQUIRE(warm().contains("first"));
  live(std::nullopt, 18, 1h);
  REQUIRE(warm().contains("warnings"));
  CHECK_THAT(json::serialize(warm().at("warnings")), Says("which stands in it, says 18"));
  CHECK(json::serialize(warm().at("first")).find("Small wheels to a cold fridge.") != std::string::npos);
  // Once that is back inside nobody knows more than that the probe has to be seen to.
  live(std::nullopt, 12, 30min);
  CHECK(json::serialize(warm().at("first")).find("Small wheels") == std::string::npos);
}

TEST_CASE("probes that contradict each other: who says what is told, and the cave shows no mean") {
  WatchedFridge fridge;
  fridge.house.Do("probe", AirProbe("Door side", "fridge/door", InCave(1)));
  const auto both = [&](double shelf, double door, rules::Millis span) {
    const rules::Instant end = fridge.house.Now() + span;
    for (int i = 0; fridge.house.Now() < end; ++i) {
      fridge.house.StepTo(fridge.house.Now() + 5min);
      fridge.house.Reads(shelf + 0.05 * (i % 3), 91 + i % 3);
      fridge.house.Keep({fridge.house.Reading(3, door + 0.05 * (i % 3)), fridge.house.Reading(4, 91 + i % 3)});
    }
  };
  both(12, 12.4, 4h);
  both(12, 16, 9h);
  const json::object air = Part(fridge.Fridge(), "temperature");
  CHECK(Text(air, "state") == "unknown");
  CHECK_FALSE(air.contains("mean"));
  CHECK(Part(air, "odds").at("high").to_number<double>() == Approx(16).margin(0.2));
  std::size_t told = 0;
  for (const json::array standing = fridge.Standing(); const json::value& one : standing) {
    const json::object& alarm = one.as_object();
    ++told;
    CHECK(Text(alarm, "kind") == "too warm");
    CHECK(Text(alarm, "severity") == "watch");
    const json::array said = List(alarm, "said");
    REQUIRE(said.size() == 2);
    CHECK(said[0].at("probe").as_string() == "Fridge air");
    CHECK(said[1].at("probe").as_string() == "Door side");
    CHECK(said[1].at("value").to_number<double>() == Approx(16).margin(0.2));
    CHECK(alarm.at("value").to_number<double>() == Approx(16).margin(0.2));
    CHECK(List(fridge.Page(Text(alarm, "id")), "journal").size() >= 1);
  }
  CHECK(told == 1);
  // One figure of it everywhere, and both beside it.
  fridge.house.StepTo(fridge.house.Now() + 10min);
  both(12, 15.7, 2h);
  const std::string worse = "One of its probes says so and another contradicts it";
  const std::string list = std::regex_replace(fridge.house.Get("/api/round/text").body, std::regex(R"(\s+)"), " ");
  CHECK_THAT(list, Says(worse));
  CHECK(std::regex_search(list, std::regex(R"(Its probes: Fridge air 12\.\d °C, Door side (15\.\d °C)\.)")));
  CHECK(std::regex_search(list, std::regex(R"(too warm since .*?min\. 15\.\d °C, keep)")));
  CHECK(std::regex_search(list, std::regex(R"(its probes contradict each other: 12\.\d to 15\.\d °C)")));
  const std::string now = NowText(Words::English(), fridge.house.See("/api/caves"));
  CHECK_THAT(now, Says(worse));
  CHECK(std::regex_search(now, std::regex(R"(   Its probes: Fridge air 12\.\d °C, Door side 15\.\d °C\.)")));
}

TEST_CASE("a probe out of service is neither silent nor judged, and its readings are kept") {
  WatchedFridge fridge;
  fridge.Read(12, 1h);
  fridge.house.Do("service", {{"probe", 1}, {"out", true}, {"why", "in the salt jar"}});
  fridge.Read(25, 8h);
  CHECK(Part(fridge.house.See("/api/caves"), "head").at("alarms").as_array().empty());
  const json::object probe = List(fridge.house.See("/api/caves/1"), "probes").front().as_object();
  CHECK(Text(Part(probe, "out_of_service"), "why") == "in the salt jar");
  CHECK_FALSE(probe.at("silent").as_bool());
  CHECK(Text(fridge.Fridge(), "state") == "not watched");
  CHECK_FALSE(List(Part(fridge.Fridge(), "ribbon"), "temperature").empty());
  fridge.house.Do("service", {{"probe", 1}, {"out", false}});
  fridge.Read(12, 2h);
  CHECK(Text(fridge.Fridge(), "state") == "in band");
  CHECK(fridge.house.Post(fridge.house.Act("service", {{"probe", 7}, {"out", true}})).status == 422);
}

}  // namespace
}  // namespace rindwatch
