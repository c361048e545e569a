// What is said of wheels: their pages, and their lines of the round.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/api/small_house.hpp"

namespace rindwatch {
namespace {

using namespace testing;

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

}  // namespace
}  // namespace rindwatch
