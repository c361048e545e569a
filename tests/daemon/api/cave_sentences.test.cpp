// What is said of caves beside each other: over them, over the round, in the list.
#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/small_house.hpp"

namespace rindwatch {
namespace {

using namespace testing;

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

}  // namespace
}  // namespace rindwatch
