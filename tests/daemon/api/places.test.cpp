// The answers of the places on a small house: what is known, what is borrowed, what is unknown, what nobody watches.
#include "daemon/api/sentence.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/small_house.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("a house without a wheel asks the first question") {
  TempFolder folder;
  Household house(folder / "rind.db", kThursday);
  house.Begin();
  const json::object round = house.See("/api/round");
  CHECK(Part(round, "head").at("empty").as_bool());
  CHECK(Text(Part(round, "head"), "sentence") == "Nothing ripens here yet: say what does.");
  CHECK(List(round, "lines").empty());
  CHECK(List(house.See("/api/caves"), "caves").empty());
  CHECK(List(house.See("/api/plans"), "plans").size() == rules::PlanLibrary().size());
  CHECK(List(house.See("/api/plans"), "caves").empty());
}

TEST_CASE("every place opens with the same head: clock, day, zone, what rings") {
  SmallHouse small;
  for (const char* place : {"/api/round", "/api/caves", "/api/caves/1", "/api/wheels", "/api/wheels/1", "/api/journal",
                            "/api/plans", "/api/arriving"}) {
    CAPTURE(place);
    const json::object head = Part(small.house.See(place), "head");
    CHECK(head.at("now").to_number<std::int64_t>() == ToMillis(kThursday));
    CHECK(head.at("speed").to_number<double>() == Approx(1));
    CHECK(Text(head, "zone") == "Europe/Vienna");
    CHECK(Text(head, "day") == "2026-03-12");
    CHECK_FALSE(head.at("empty").as_bool());
    CHECK_FALSE(head.at("trial").as_bool());
    CHECK(List(head, "alarms").empty());
    CHECK(List(head, "troubles").empty());
  }
}

TEST_CASE("a cave in band says its mean, its band and its target, and draws its day") {
  SmallHouse small;
  small.Read(11.5, 92, 2h);
  const json::object fridge = small.CaveNamed("Fridge");
  CHECK(Text(fridge, "state") == "in band");
  const json::object temperature = Part(fridge, "temperature");
  CHECK(temperature.at("watched").as_bool());
  CHECK_FALSE(temperature.at("borrowed").as_bool());
  CHECK(temperature.at("judged").as_bool());
  CHECK(temperature.at("mean").to_number<double>() == Approx(11.5));
  CHECK(temperature.at("latest").to_number<double>() == Approx(11.5));
  CHECK(Part(temperature, "band").at("low").to_number<double>() == Approx(10.5));
  CHECK(Part(temperature, "band").at("high").to_number<double>() == Approx(14.5));
  CHECK(List(Part(fridge, "ribbon"), "temperature").size() == 12);
  CHECK(List(fridge, "gaps").empty());
  CHECK_FALSE(temperature.contains("silent_since"));
}

TEST_CASE("a target that the band in force does not hold is told with whose it is; one that all share as theirs") {
  SmallHouse small;
  small.house.Do("probe", AirProbe("Cellar air", "cellar/air", NewCave("room")));
  const std::int64_t room = small.CaveNamed("Cellar").at("id").to_number<std::int64_t>();
  small.house.Do("enter", InTheBox(PressedWheels(4, InCave(room), 20), 17));
  json::object cellar = small.CaveNamed("Cellar");
  CHECK(Part(Part(cellar, "humidity"), "target").at("low").to_number<double>() == Approx(85));
  CHECK_FALSE(cellar.contains("wants"));
  // Its band of 85 to 100 leaves 85 to 90 of theirs of 80 to 90, and holds nothing of the 90 to 96 that it wants.
  json::object bloomies = PressedWheels(2, InCave(room), 8);
  bloomies["plan"] = "bloomy";
  small.house.Do("enter", bloomies);
  cellar = small.CaveNamed("Cellar");
  REQUIRE(Part(Part(cellar, "humidity"), "band").at("high").to_number<double>() == Approx(90));
  CHECK_FALSE(Part(cellar, "humidity").contains("target"));
  CHECK(Part(Part(cellar, "temperature"), "target").at("low").to_number<double>() == Approx(12));
  const json::array wants = List(cellar, "wants");
  REQUIRE(wants.size() == 1);
  const json::object want = wants.front().as_object();
  CHECK(Text(want, "channel") == "humidity");
  CHECK(Part(want, "target").at("low").to_number<double>() == Approx(90));
  CHECK(List(want, "wheels").front().at("count").to_number<int>() == 2);
}

TEST_CASE("a box without a probe borrows the temperature and never the humidity") {
  SmallHouse small;
  small.Read(11.5, 92, 2h);
  const json::object box = small.CaveNamed("Box 1");
  CHECK(box.at("inside").to_number<int>() == 1);
  CHECK(Part(box, "temperature").at("borrowed").as_bool());
  CHECK(Part(box, "temperature").at("mean").to_number<double>() == Approx(11.5));
  CHECK(Text(Part(box, "humidity"), "state") == "not watched");
  CHECK_FALSE(Part(box, "humidity").at("watched").as_bool());
  CHECK_FALSE(Part(box, "humidity").contains("mean"));
  CHECK_FALSE(Part(box, "humidity").contains("latest"));
  CHECK(List(Part(box, "ribbon"), "humidity").empty());
  CHECK_FALSE(List(Part(box, "ribbon"), "temperature").empty());
}

TEST_CASE("a place without a probe is not watched: no figure, no trace, no gap, and never well") {
  SmallHouse small;
  small.Read(11.5, 92, 2h);
  const json::object counter = small.CaveNamed("Counter");
  CHECK(Text(counter, "state") == "not watched");
  for (const char* channel : {"temperature", "humidity"}) {
    CHECK(Text(Part(counter, channel), "state") == "not watched");
    CHECK_FALSE(Part(counter, channel).at("watched").as_bool());
    for (const char* figure : {"mean", "latest", "latest_at", "silent_since"}) {
      CHECK_FALSE(Part(counter, channel).contains(figure));
    }
    CHECK(List(Part(counter, "ribbon"), channel).empty());
  }
  CHECK(List(counter, "gaps").empty());
}

TEST_CASE("a probe that has not spoken yet leaves its cave unknown") {
  SmallHouse small;
  const json::object fridge = small.CaveNamed("Fridge");
  CHECK(Text(fridge, "state") == "unknown");
  CHECK(Part(fridge, "temperature").at("watched").as_bool());
  CHECK_FALSE(Part(fridge, "temperature").contains("mean"));
  CHECK_THAT(small.Sentence(), Says("Fridge is unknown: probe Fridge air silent."));
  CHECK(Text(Part(fridge, "temperature"), "unknown_why") == "probe Fridge air silent");
}

TEST_CASE("a silent probe is unknown, says since when, leaves a gap and no figure that looks like now") {
  SmallHouse small;
  small.Read(11.5, 92, 2h);
  const rules::Instant spoke = small.house.Now();
  small.house.StepTo(spoke + 40min);
  json::object fridge = small.CaveNamed("Fridge");
  CHECK(Text(fridge, "state") == "unknown");
  CHECK(Text(Part(fridge, "temperature"), "state") == "unknown");
  CHECK_FALSE(Part(fridge, "temperature").contains("mean"));
  CHECK(Part(fridge, "temperature").at("silent_since").to_number<std::int64_t>() == ToMillis(spoke));
  CHECK(List(fridge, "gaps").size() == 1);
  CHECK_THAT(small.Sentence(), Says("Fridge is unknown since 11:00: probe Fridge air silent."));
  // What it lends is unknown too, and said once.
  CHECK_THAT(small.Sentence(), !Says("Box 1"));
  CHECK(Text(small.CaveNamed("Box 1"), "state") == "unknown");
  CHECK_THAT(small.house.Get("/api/round/text").body,
             Says("Box 1     unknown         since 11:00: probe Fridge air silent"));
  const json::object probe = small.house.See("/api/caves/1").at("probes").as_array().front().as_object();
  CHECK(probe.at("silent").as_bool());
  CHECK_THAT(small.house.Get("/metrics").body, !Says("air_temperature_celsius{"));

  small.house.StepTo(spoke + 50min);
  const json::object alarm = Part(small.house.See("/api/round"), "head").at("alarms").as_array().front().as_object();
  CHECK(Text(alarm, "kind") == "probe silent");
  CHECK(Text(alarm, "probe") == "Fridge air");
  CHECK(List(alarm, "first").size() == 3);
  CHECK_THAT(small.Sentence(), Says("Fridge probe silent since 11:00."));
}

TEST_CASE("of a probe that speaks each 40 minutes nothing is missing between its words; what it leaves out is") {
  SmallHouse small;
  const auto speak = [&](int times) {
    for (int i = 0; i < times; ++i) {
      small.house.StepTo(small.house.Now() + 40min);
      small.house.Reads(11.5 + 0.1 * (i % 2), 92);
    }
  };
  // From the ninth word on its pace is known.
  speak(40);
  CHECK(List(small.CaveNamed("Fridge"), "gaps").empty());
  small.house.StepTo(small.house.Now() + 5h);
  speak(3);
  CHECK(List(small.CaveNamed("Fridge"), "gaps").size() == 1);
}

TEST_CASE("when a silence began and ended is one instant for state, ribbon, journal and alarm") {
  SmallHouse small;
  small.Read(11.5, 92, 2h);
  // What of the message was heard last is a minute later than the air: the ribbon's column ends elsewhere again.
  small.house.StepTo(small.house.Now() + 2min);
  small.house.Reads(11.5, 92);
  small.house.StepTo(small.house.Now() + 1min);
  small.house.Keep({small.house.Reading(2, 92)});
  small.house.StepTo(small.house.Now() + 50min);
  const auto since = [&] {
    const json::array alarms = Part(small.house.See("/api/round"), "head").at("alarms").as_array();
    return alarms.front().as_object().at("since").to_number<std::int64_t>();
  };
  const std::int64_t silent = since();
  const auto gap = [&](const char* end) {
    const json::array gaps = List(small.CaveNamed("Fridge"), "gaps");
    REQUIRE(gaps.size() == 1);
    return gaps.front().at(end).to_number<std::int64_t>();
  };
  for (const char* channel : {"temperature", "humidity"})
    CHECK(Part(small.CaveNamed("Fridge"), channel).at("silent_since").to_number<std::int64_t>() == silent);
  CHECK(gap("from") == silent);
  small.house.StepTo(small.house.Now() + 7min);
  small.house.Reads(11.5, 92);
  const std::int64_t spoke = ToMillis(small.house.Now());
  small.Read(11.5, 92, 30min);
  CHECK(gap("from") == silent);
  CHECK(gap("to") == spoke);
}

TEST_CASE("of two probes in a cave each shows what it said itself, and the silent one is silent") {
  SmallHouse small;
  small.house.Do("probe", AirProbe("Second air", "fridge/second", InCave(1)));
  small.Read(11.5, 92, 30min);
  for (int times = 0; times < 24; ++times) {
    small.house.StepTo(small.house.Now() + 5min);
    small.house.Reads(13.5, 90, 3);
  }
  const auto probes = List(small.house.See("/api/caves/1"), "probes");
  REQUIRE(probes.size() == 2);
  const auto latest = [&](std::size_t n) {
    return probes[n].as_object().at("channels").as_array().front().as_object().at("latest").to_number<double>();
  };
  CHECK(latest(0) == Approx(11.5));
  CHECK(latest(1) == Approx(13.5));
  CHECK(probes[0].as_object().at("silent").as_bool());
  CHECK_FALSE(probes[1].as_object().at("silent").as_bool());
}

TEST_CASE("a cave that is out of band says on which side, rings, and names whom it touches and what to do") {
  SmallHouse small;
  small.Read(17.5, 92, 2h);
  const json::object fridge = small.CaveNamed("Fridge");
  CHECK(Text(fridge, "state") == "out of band");
  CHECK(Part(fridge, "temperature").at("side").to_number<int>() == 1);
  const auto alarms = Part(small.house.See("/api/caves"), "head").at("alarms").as_array();
  REQUIRE(alarms.size() == 1);
  const json::object alarm = alarms.front().as_object();
  CHECK(Text(alarm, "kind") == "too warm");
  CHECK(Text(alarm, "cave_name") == "Fridge");
  std::size_t touched = 0;
  for (const auto& group : List(alarm, "wheels")) touched += group.as_object().at("count").to_number<std::size_t>();
  CHECK(touched == 9);
  CHECK(List(alarm, "first").size() == 3);
  CHECK_FALSE(alarm.contains("taken"));
  CHECK_THAT(small.Sentence(), Says("Fridge too warm since"));

  small.house.Do("take", {{"alarm", alarm.at("id")}});
  small.house.Do("called", {{"alarm", alarm.at("id")}, {"what", "door"}});
  const json::object taken = Part(small.house.See("/api/round"), "head").at("alarms").as_array().front().as_object();
  CHECK(taken.at("taken").to_number<std::int64_t>() == ToMillis(small.house.Now()));
  CHECK(Text(taken, "what") == "door");
}

TEST_CASE("boards hold their wheels; those without a board come first") {
  SmallHouse small;
  json::object to = InCave(1);
  to["shelf"] = "A1";
  small.house.Do("move", {{"wheels", Ids({4, 5})}, {"to", to}});
  const auto boards = List(small.CaveNamed("Fridge"), "boards");
  REQUIRE(boards.size() == 2);
  CHECK(Text(boards[0].as_object(), "place").empty());
  CHECK(List(boards[0].as_object(), "wheels").size() == 4);
  CHECK(Text(boards[1].as_object(), "place") == "A1");
  CHECK(List(boards[1].as_object(), "wheels").size() == 2);
}

TEST_CASE("a round at a cave is marked on its ribbon, an undone one is not") {
  SmallHouse small;
  small.house.StepTo(kThursday + 1h);
  const auto marks = [&] { return List(Part(small.CaveNamed("Box 1"), "ribbon"), "marks").size(); };
  const json::object done = small.house.Do("care", Care({1, 2, 3}, {"wash"}));
  CHECK(marks() == 1);
  small.house.Do("undo", {{"of", done.at("id")}});
  CHECK(marks() == 0);
}

TEST_CASE("what is not in the book is not found") {
  SmallHouse small;
  for (const char* path :
       {"/api/caves/9", "/api/caves/x", "/api/wheels/99", "/api/wheels/0", "/api/wheels/-1", "/api/lots"}) {
    CAPTURE(path);
    CHECK(small.house.Get(path).status == 404);
  }
  small.house.Do("gone", {{"wheels", Ids({1})}, {"how", "eaten"}});
  CHECK(small.house.Get("/api/wheels/1").status == 200);  // its page stays
  CHECK(small.house.See("/api/wheels").at("gone").to_number<int>() == 1);
}

TEST_CASE("a store that refuses is told on every place and to whoever asks for health") {
  SmallHouse small;
  CHECK(small.house.Get("/health").status == 200);
  small.house.TheStore().refusing = true;
  CHECK(small.house.Get("/health").status == 503);
  const auto troubles = List(Part(small.house.See("/api/round"), "head"), "troubles");
  REQUIRE(troubles.size() == 1);
  CHECK(Text(troubles.front().as_object(), "kind") == "store");
  CHECK(Text(troubles.front().as_object(), "text") == "The disk is full. Free some space.");
}

TEST_CASE("times and days are said as the keeper says them") {
  SmallHouse small;
  const ApiContext& context = small.house.Context();
  const rules::Date today = small.house.TheBook().Home().DayOf(kThursday);
  using std::chrono::days;
  CHECK(TimeWord(small.house.TheBook(), kThursday) == "09:00");
  CHECK(DayWord(context, today) == "today");
  CHECK(DayWord(context, today + days{1}) == "tomorrow");
  CHECK(DayWord(context, today + days{2}) == "Saturday");
  CHECK(DayWord(context, today + days{6}) == "Wednesday");
  CHECK(DayWord(context, today + days{7}) == "Thursday 19 March");
  CHECK(DayWord(context, today - days{1}) == "Wednesday 11 March");
}

}  // namespace
}  // namespace rindwatch
