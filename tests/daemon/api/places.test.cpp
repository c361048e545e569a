// The answers of the places on a small house: what is known, what is borrowed, what is unknown, what nobody watches.
#include <algorithm>

#include "daemon/api/sentence.hpp"
#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string Text(const json::object& object, const char* name) { return std::string(object.at(name).as_string()); }
// By value: what they are taken out of is mostly gone at once.
json::object Part(const json::object& object, const char* name) { return object.at(name).as_object(); }
json::array List(const json::object& object, const char* name) { return object.at(name).as_array(); }

// What stands over the places, in one text.
std::string TopOfCaves(Household& house) {
  std::string text;
  for (const json::value& sentence : List(house.See("/api/caves"), "sentences"))
    text += (text.empty() ? "" : " ") + Text(sentence.as_object(), "text");
  return text;
}

// A fridge with a probe, a box in it without one, a counter. Three pressed wheels in the box, six bloomies in the
// fridge, one drying on the counter.
struct SmallHouse {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  SmallHouse() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", InTheBox(PressedWheels(3, NewCaveIn("box", 1), 12), 9));
    json::object bloomies = PressedWheels(6, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    bloomies["lot"] = "221";
    bloomies["grams"] = 250;
    house.Do("enter", bloomies);
    house.Do("enter", PressedWheels(1, NewCave("counter"), 2));
  }
  void Read(double temperature, double humidity, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    while (house.Now() < end) {
      house.StepTo(house.Now() + 5min);
      house.Reads(temperature, humidity);
    }
  }
  // For as long as a value that never moves would be a probe that is stuck.
  void ReadLively(double temperature, double humidity, rules::Millis span) {
    for (rules::Millis read{0}; read < span; read += 10min) {
      Read(temperature, humidity, 5min);
      Read(temperature + 0.1, humidity + 1, 5min);
    }
  }
  json::object CaveNamed(const char* name) {
    for (const json::value& cave : List(house.See("/api/caves"), "caves")) {
      if (cave.as_object().at("name").as_string() == name) return cave.as_object();
    }
    throw std::runtime_error("no such cave");
  }
  std::string Sentence() {
    return std::string(house.See("/api/round").at("head").as_object().at("sentence").as_string());
  }
};

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

// ---- caves ----

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

// ---- wheels, round, journal ----

TEST_CASE("a wheel says its age, what it counts from, its stage, its next care and when it will be ready") {
  SmallHouse small;
  const auto wheels = List(small.house.See("/api/wheels"), "wheels");
  REQUIRE(wheels.size() == 10);
  const json::object wheel = wheels.front().as_object();
  CHECK(Text(wheel, "name") == "Pressed semi-hard 1");
  CHECK(wheel.at("age").to_number<int>() == 12);
  CHECK(wheel.at("day").to_number<int>() == 9);
  CHECK(Text(wheel, "made") == DaysAgo(12));
  CHECK(Text(Part(wheel, "counts_from"), "start") == "entered box");
  CHECK(Text(wheel, "stage") == "young");
  CHECK(Text(wheel, "state") == "rind forming");
  CHECK(Text(wheel, "place") == "Box 1");
  CHECK_FALSE(wheel.contains("grams"));
  CHECK(wheel.contains("next"));
  CHECK(wheel.contains("ready"));
  CHECK(wheels[3].as_object().at("grams").to_number<int>() == 250);
}

TEST_CASE("a wheel's page tells its life: stages, cares with what was undone, air, excursions") {
  SmallHouse small;
  small.Read(17.5, 92, 2h);
  const json::object first = small.house.Do("care", Care({1}, {"wash"}));
  small.house.Do("undo", {{"of", first.at("id")}});
  const json::object page = small.house.See("/api/wheels/1");
  CHECK(List(page, "stages").size() == 5);
  REQUIRE(List(page, "cares").size() == 1);
  CHECK(List(page, "cares").front().as_object().at("undone").as_bool());
  CHECK_FALSE(List(page, "cares").front().as_object().at("before_watch").as_bool());
  REQUIRE(List(page, "climate").size() == 1);
  CHECK(List(page, "climate").front().as_object().at("high").to_number<double>() == Approx(17.5));
  REQUIRE(List(page, "excursions").size() == 1);
  CHECK(Text(List(page, "excursions").front().as_object(), "kind") == "too warm");
  CHECK_FALSE(List(page, "cautions").empty());
  CHECK(page.at("entered").to_number<std::int64_t>() == ToMillis(kThursday));
}

TEST_CASE("a wheel that lay where nobody measured has no climate") {
  SmallHouse small;
  small.Read(11.5, 92, 1h);
  CHECK(List(small.house.See("/api/wheels/10"), "climate").empty());
}

TEST_CASE("what was done last before the watch is marked so, and offers no undo") {
  SmallHouse small;
  json::object enter = InTheBox(PressedWheels(1, InCave(1), 5), 2);
  enter["last"] = json::array{{{"kind", "wash"}, {"day", DaysAgo(0)}}};
  small.house.Do("enter", enter);
  CHECK(List(small.house.See("/api/wheels/11"), "cares").front().as_object().at("before_watch").as_bool());
  bool found = false;
  for (const auto& line : List(small.house.See("/api/round"), "lines")) {
    if (line.as_object().at("wheels") != json::value(Ids({11}))) continue;
    found = true;
    CHECK(Text(line.as_object(), "state") == "done");
    CHECK_FALSE(line.as_object().contains("settled_by"));
  }
  CHECK(found);
}

TEST_CASE("the round's lines and questions name their wheels, and what was signed can be undone by its act") {
  SmallHouse small;
  json::object round = small.house.See("/api/round");
  REQUIRE(List(round, "questions").size() == 1);
  const json::object question = List(round, "questions").front().as_object();
  CHECK(Text(question, "text") == "Dry to the touch?");
  CHECK(Text(question, "start") == "entered box");
  CHECK(List(question, "where").size() == 2);  // fridge and box; a counter is no box
  const json::object line = List(round, "lines").front().as_object();
  CHECK(Text(line, "family") == "Bloomy");
  CHECK(Text(line, "lot") == "221");
  json::array kinds = List(line, "kinds");
  const json::object done =
      small.house.Do("care", {{"wheels", line.at("wheels")}, {"done", kinds}, {"skipped", json::array{}}});
  round = small.house.See("/api/round");
  const json::object signed_line = List(round, "lines").front().as_object();
  CHECK(Text(signed_line, "key") == Text(line, "key"));
  CHECK(Text(signed_line, "state") == "done");
  CHECK(signed_line.at("settled_by") == done.at("id"));
  CHECK(signed_line.at("settled_at").to_number<std::int64_t>() == ToMillis(small.house.Now()));
}

TEST_CASE("the journal is paged, oldest first, and says whether there is more") {
  SmallHouse small;
  for (int n = 0; n < 70; ++n) small.house.Do("note", {{"text", std::to_string(n)}});
  const json::object newest = small.house.See("/api/journal");
  REQUIRE(List(newest, "lines").size() == 60);
  CHECK(newest.at("older").as_bool());
  CHECK(Text(List(newest, "lines").back().as_object(), "text") == "69");
  const auto first = List(newest, "lines").front().as_object().at("position").to_number<std::int64_t>();
  const json::object older = small.house.See("/api/journal?before=" + std::to_string(first));
  CHECK_FALSE(older.at("older").as_bool());
  CHECK(Text(List(older, "lines").back().as_object(), "text") == "9");
  CHECK(Text(List(older, "lines").front().as_object(), "kind") == "started");
  for (const char* wrong : {"x", "-1", "", "1.5"}) {
    CHECK(small.house.Get(std::string("/api/journal?before=") + wrong).status == 400);
  }
}

TEST_CASE("each kind of line tells what it needs") {
  SmallHouse small;
  small.Read(17.5, 92, 2h);
  const json::value alarm =
      Part(small.house.See("/api/round"), "head").at("alarms").as_array().front().as_object().at("id");
  json::object to = InCave(1);
  to["shelf"] = "A1";
  small.house.Do("take", {{"alarm", alarm}});
  small.house.Do("called", {{"alarm", alarm}, {"what", "door"}});
  small.house.Do("move", {{"wheels", Ids({4})}, {"to", to}});
  const json::object care = small.house.Do("care", {{"wheels", Ids({4})},
                                                    {"done", json::array{"turn"}},
                                                    {"skipped", json::array{"pat"}},
                                                    {"reason", "no time"},
                                                    {"keeper", "TR"}});
  small.house.Do("undo", {{"of", care.at("id")}});
  small.house.StepTo(small.house.Now() + 1min);
  small.house.Do("move", {{"wheels", Ids({4})}, {"to", InCave(2)}});
  small.house.Do("answer",
                 {{"wheels", Ids({10})}, {"start", "entered box"}, {"day", DaysAgo(1)}, {"move_to", InCave(2)}});
  small.house.Do("gone", {{"wheels", Ids({5})}, {"how", "eaten"}});
  small.house.Do("unhang", {{"probe", 1}});
  small.house.Do("cave", {{"cave", 2}, {"name", "Blue lid"}});

  const auto lines = List(small.house.See("/api/journal"), "lines");
  const auto last = [&](const char* kind) -> json::object {
    for (std::size_t n = lines.size(); n-- > 0;) {
      if (Text(lines[n].as_object(), "kind") == kind) return lines[n].as_object();
    }
    throw std::runtime_error(std::string("no line of the kind ") + kind);
  };
  CHECK(Text(Part(last("alarm"), "alarm"), "change") == "over");  // nothing judges where nothing hangs
  CHECK(last("alarm").at("count").to_number<int>() == 9);
  CHECK(Text(Part(last("take"), "alarm"), "kind") == "too warm");
  CHECK(Text(last("take"), "cave_name") == "Fridge");
  CHECK(Text(last("called"), "what") == "door");
  const json::object done = last("care");
  CHECK(Text(done, "place") == "A1");
  CHECK(Text(done, "keeper") == "TR");
  CHECK(Text(done, "reason") == "no time");
  CHECK(done.at("undone").as_bool());
  CHECK(Part(last("undo"), "of").at("done") == json::value(json::array{"turn"}));
  CHECK(Text(last("move"), "cave_name") == "Blue lid");
  CHECK_FALSE(last("move").contains("place"));
  CHECK(Text(last("answer"), "day") == DaysAgo(1));
  CHECK(Text(last("gone"), "what") == "eaten");
  CHECK(Text(last("unhang"), "topic") == "fridge/air");
  CHECK(Text(last("cave"), "text") == "Blue lid");
  CHECK(Text(last("probe"), "topic") == "fridge/air");
  CHECK_FALSE(last("started").contains("unwatched"));
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

TEST_CASE("a hint rings nothing and hides nothing: what is unknown is still said") {
  TempFolder folder;
  Household house(folder / "rind.db", kThursday);
  house.Begin();
  // A counter with a probe: nothing is asked of its air, so its silence is a hint at most.
  house.Do("probe", AirProbe("Air", "a", NewCave("counter")));
  house.Do("enter", PressedWheels(1, InCave(1), 1));
  house.Reads(20, 50);
  house.StepTo(kThursday + 3h);
  const json::object head = Part(house.See("/api/round"), "head");
  REQUIRE(List(head, "alarms").size() == 1);
  CHECK(Text(List(head, "alarms").front().as_object(), "severity") == "hint");
  CHECK_THAT(Text(head, "sentence"), Says("Counter is unknown since 09:00: probe Air silent."));
  CHECK(Text(house.See("/api/round"), "besides") == "Counter is unknown since 09:00: probe Air silent.");
}

// The small house with a probe in its box too, one of a battery in the fridge, and a box that may be 80 to 90 % damp.
struct DampBox : SmallHouse {
  DampBox() {
    house.Do("probe", AirProbe("Box air", "box/air", InCave(2)));
    house.Do("probe", {{"name", "Battery"},
                       {"topic", "fridge/battery"},
                       {"format", "json"},
                       {"channels", json::array{{{"kind", "battery"}, {"pointer", "/b"}}}},
                       {"where", InCave(1)}});
    house.Do("limits", {{"cave", 2}, {"humidity", {{"low", 80}, {"high", 90}}}});
  }
  void ReadBoth(double box_humidity, double battery, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    for (int said = 0; house.Now() < end; ++said) {
      house.StepTo(house.Now() + 5min);
      house.Reads(12 + 0.05 * (said % 3), 90 + said % 2);
      house.Reads(12 + 0.05 * (said % 3), box_humidity + said % 2, 3);
      house.Keep({house.Reading(5, battery)});
    }
  }
  std::string OnTopOfCaves() { return TopOfCaves(house); }
  std::string MorningList() { return house.Get("/api/round/text").body; }
};

TEST_CASE("round, caves and list name the same places at the same instant, and too damp is a word of alarms") {
  DampBox small;
  small.ReadBoth(85, 80, 3h);
  CHECK(small.OnTopOfCaves() == "Fridge and Box 1 keep their band.");
  small.ReadBoth(93, 80, 2h);
  const std::string damp = "Box 1 is out of band, damp.";
  const auto all_say_it = [&] {
    CHECK(small.OnTopOfCaves() == damp + " Fridge keeps its band.");
    CHECK_THAT(small.Sentence(), Says(damp));
    CHECK(Text(small.house.See("/api/round"), "besides") == damp);
    CHECK_THAT(small.MorningList(), Says(damp) && !Says("too damp"));
  };
  all_say_it();
  // A weak battery in the fridge says nothing of the box's air.
  small.ReadBoth(93, 5, 1h);
  CHECK_THAT(small.Sentence(), Says("Fridge battery low since"));
  all_say_it();
  small.ReadBoth(93, 80, 6h);
  CHECK_THAT(small.Sentence(), Says("Box 1 too damp since") && !Says("out of band"));
  CHECK_FALSE(small.house.See("/api/round").contains("besides"));
  const json::value told = small.house.See("/api/caves").at("sentences");
  CHECK_FALSE(told.as_array().front().as_object().contains("alarm"));
  CHECK(small.OnTopOfCaves() == "Fridge keeps its band.");
  CHECK_THAT(small.MorningList(), Says("too damp: 9") && !Says("is out of band"));
}

TEST_CASE("of a box that keeps what it borrows the list says what the page says: nobody knows how damp it is") {
  SmallHouse small;
  small.Read(12, 91, 3h);
  const auto list = [&] { return small.house.Get("/api/round/text").body; };
  REQUIRE(Text(small.CaveNamed("Box 1"), "state") == "in band");
  CHECK_THAT(list(), Says("Box 1     humidity not watched; look at the lid: drops? dry?"));
  CHECK_THAT(list(), Says("Counter   not watched\n"));
  small.Read(20, 91, 2h);
  CHECK_THAT(list(), Says("warm; humidity not watched"));
}

TEST_CASE("what a box borrows is told by the place around it alone") {
  SmallHouse small;
  small.Read(12, 91, 3h);
  small.Read(14.6, 91, 40min);
  CHECK(TopOfCaves(small.house) == "Fridge is out of band, warm.");
  CHECK_THAT(small.Sentence(), Says("Fridge is out of band, warm.") && !Says("Box"));
}

TEST_CASE("a box whose wheels want what no right air around it could be is a matter of where it lies") {
  SmallHouse small;
  small.house.Do("band", {{"wheels", Ids({1, 2, 3})}, {"temperature", {{"low", 2}, {"high", 6}}}});
  small.Read(12, 91, 3h);
  CHECK(Text(small.CaveNamed("Box 1"), "state") == "out of band");
  CHECK(List(small.CaveNamed("Fridge"), "does_not_suit").size() == 1);
  // It is told on the day on which it comes to be so.
  CHECK_THAT(small.Sentence(), Says("Box 1 is out of band, warm."));
  small.ReadLively(12, 91, 24h);
  REQUIRE(Text(small.CaveNamed("Box 1"), "state") == "out of band");
  CHECK_THAT(TopOfCaves(small.house), !Says("Box 1"));
  CHECK_THAT(small.Sentence(), !Says("Box 1"));
  CHECK_THAT(small.house.Get("/api/round/text").body, Says("Box 1     out of band"));
}

TEST_CASE("which wheels a place does not suit is told on the day on which it comes to be so, then by its own line") {
  SmallHouse small;
  small.ReadLively(12, 91, 24h);
  REQUIRE(List(small.CaveNamed("Fridge"), "does_not_suit").empty());
  CHECK_THAT(small.Sentence(), !Says("suit"));
  small.house.Do("band", {{"wheels", Ids({8, 9})}, {"temperature", {{"low", 2}, {"high", 6}}}});
  small.ReadLively(12, 91, 3h);
  REQUIRE(List(small.CaveNamed("Fridge"), "does_not_suit").size() == 1);
  CHECK_THAT(small.Sentence(), Says("Fridge does not suit 2 bloomies."));
  CHECK_THAT(TopOfCaves(small.house), Says("Fridge does not suit 2 bloomies.") && Says("Fridge keeps its band."));
  CHECK_THAT(small.house.Get("/api/round/text").body, Says("does not suit 2 bloomies."));
  small.ReadLively(12, 91, 24h);
  REQUIRE(List(small.CaveNamed("Fridge"), "does_not_suit").size() == 1);
  CHECK_THAT(small.Sentence(), !Says("suit"));
  CHECK_THAT(TopOfCaves(small.house), !Says("suit"));
}

TEST_CASE("that wheels come not to suit by a day of their plan is told on that day") {
  SmallHouse small;
  json::object washed = PressedWheels(1, InCave(1), 8);
  washed["plan"] = "washed-soft";
  washed["starts"] = json::array{{{"start", "entered cave"}, {"day", DaysAgo(4)}, {"reckoned", false}}};
  small.house.Do("enter", washed);
  small.house.Do("answer", {{"wheels", Ids({11})}, {"option", "cold"}});
  const auto unsuited = [&] { return List(small.CaveNamed("Fridge"), "does_not_suit").size(); };
  small.ReadLively(12, 91, 2h);
  REQUIRE(unsuited() == 0);
  CHECK_THAT(small.Sentence(), !Says("suit"));
  small.ReadLively(12, 91, 24h);
  REQUIRE(unsuited() == 1);
  CHECK_THAT(small.Sentence(), Says("Fridge does not suit"));
}

TEST_CASE("what a box wants is told when it changes, and never because of what the fridge comes to be asked for") {
  SmallHouse small;
  small.house.Do("band", {{"wheels", Ids({1, 2, 3})}, {"temperature", {{"low", 2}, {"high", 7}}}});
  small.ReadLively(12, 91, 30h);
  REQUIRE(Text(small.CaveNamed("Box 1"), "state") == "out of band");
  CHECK_THAT(small.Sentence(), !Says("Box 1"));
  // Both share a good part now, and nothing has changed for the wheels in the box.
  small.house.Do("limits", {{"cave", 1}, {"temperature", {{"low", 5}, {"high", 14}}}});
  small.ReadLively(12, 91, 2h);
  REQUIRE(Text(small.CaveNamed("Fridge"), "state") == "in band");
  REQUIRE(Text(small.CaveNamed("Box 1"), "state") == "out of band");
  CHECK_THAT(small.Sentence(), !Says("Box 1"));
}

TEST_CASE("a line that begins a part in quite another warmth says to which") {
  SmallHouse small;
  json::object washed = PressedWheels(1, InCave(1), 46);
  washed["plan"] = "washed-soft";
  washed["starts"] = json::array{{{"start", "entered cave"}, {"day", DaysAgo(41)}, {"reckoned", false}}};
  small.house.Do("enter", washed);
  small.house.Do("answer", {{"wheels", Ids({11})}, {"option", "in the cellar"}});
  bool wraps = false;
  for (const json::array lines = List(small.house.See("/api/round"), "lines"); const json::value& one : lines) {
    const json::object& line = one.as_object();
    const bool wrap = std::ranges::count(line.at("kinds").as_array(), json::value("wrap")) > 0;
    CHECK(line.contains("then") == (wrap && Text(line, "family") != "bloomies"));
    if (!wrap || !line.contains("then")) continue;
    wraps = true;
    CHECK(line.at("then").at("low").to_number<double>() == 2);
    CHECK(line.at("then").at("high").to_number<double>() == 6);
  }
  CHECK(wraps);
  CHECK_THAT(small.house.Get("/api/round/text").body, Says("hen to 2 to 6"));
}

TEST_CASE("where all wheels lie in boxes the fridge's humidity is measured, and told as not judged") {
  SmallHouse small;
  small.house.Do("move", {{"wheels", Ids({4, 5, 6, 7, 8, 9})}, {"to", InCave(2)}});
  small.Read(12, 46, 2h);
  const json::object fridge = List(small.house.See("/api/caves"), "caves").front().as_object();
  REQUIRE(Text(fridge, "state") == "in band");
  REQUIRE_FALSE(Part(fridge, "humidity").at("judged").as_bool());
  CHECK_THAT(NowText(Words::English(), small.house.See("/api/caves")), Says("12.0 °C; 46 %, not judged"));
  CHECK_THAT(small.house.Get("/api/round/text").body, Says("12.0 °C; 46 %, not judged"));
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
