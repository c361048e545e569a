// A power cut and the round of the place that is kept shut in it. Invented.
#include "daemon/api/barred.hpp"

#include <map>
#include <regex>

#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// A fridge with two probes and a box in it, a second fridge whose probe goes on speaking, and a counter; wheels in
// each.
struct Cut {
  WatchedFridge fridge;

  Cut() {
    fridge.house.Do("probe", AirProbe("Door", "fridge/door", InCave(1)));
    fridge.house.Do("probe", AirProbe("Vault air", "vault/air", NewCave("fridge")));
    fridge.house.Do("enter", PressedWheels(2, InCave(2), 8));
    fridge.house.Do("enter", PressedWheels(2, NewCaveIn("box", 1), 8));
    Speak(2h, true);
  }
  void Speak(rules::Millis span, bool first) {
    const rules::Instant end = fridge.house.Now() + span;
    while (fridge.house.Now() < end) {
      fridge.house.StepTo(fridge.house.Now() + 1min);
      ++fridge.said;
      if (first) fridge.house.Reads(12 + 0.05 * (fridge.said % 3), 91 + fridge.said % 3);
      if (first) fridge.house.Reads(12 + 0.05 * (fridge.said % 4), 91 + fridge.said % 4, 3);
      fridge.house.Reads(12.5 + 0.05 * (fridge.said % 5), 86 + fridge.said % 3, 5);
    }
  }
  // What bars the lines of each cave that are due; empty: nothing.
  std::map<std::string, std::string> Bars() {
    std::map<std::string, std::string> bars;
    for (const json::value& line : List(fridge.house.See("/api/round"), "lines")) {
      const json::value* bar = line.as_object().if_contains("barred");
      bars[Text(line.as_object(), "cave_name")] = bar ? std::string(bar->as_string()) : std::string{};
    }
    return bars;
  }
  std::string Head() { return Text(Part(fridge.house.See("/api/round"), "head"), "sentence"); }
  std::string ListText() {
    return std::regex_replace(fridge.house.Get("/api/round/text").body, std::regex(R"(\s+)"), " ");
  }
};

using Bars = std::map<std::string, std::string>;

TEST_CASE("while a place is perhaps without power its lines wait, those in it too, and stay due; others do not") {
  Cut cut;
  REQUIRE(cut.Bars() == Bars{{"Fridge", ""}, {"Fridge 2", ""}, {"Box 1", ""}});
  const std::size_t left = cut.fridge.house.TheWatch().TodaysRound().work.Left();
  cut.Speak(20min, false);
  REQUIRE(Text(cut.fridge.Standing().front().as_object(), "kind") == "power gone");
  CHECK(cut.Bars() == Bars{{"Fridge", "power"}, {"Fridge 2", ""}, {"Box 1", "power"}});
  CHECK_THAT(cut.Head(), Says("Two not now: power first.") && Says("One left"));
  CHECK_THAT(cut.ListText(), Says("Not now: power first, keep it shut") || Says("not now: power first, keep it shut"));
  CHECK(cut.fridge.house.TheWatch().TodaysRound().work.Left() == left);
  // Taken it still stands.
  cut.fridge.house.Do("take", {{"alarm", Text(cut.fridge.Standing().front().as_object(), "id")}});
  CHECK(cut.Bars().at("Fridge") == "power");
  SECTION("once it speaks again they are asked for") {
    cut.Speak(5min, true);
    CHECK(cut.Bars() == Bars{{"Fridge", ""}, {"Fridge 2", ""}, {"Box 1", ""}});
    CHECK_THAT(cut.Head(), !Says("not now"));
  }
  SECTION("who opens it all the same is taken at his word") {
    const json::object line = List(cut.fridge.house.See("/api/round"), "lines").front().as_object();
    json::object care{{"wheels", line.at("wheels")}, {"done", line.at("kinds")}, {"skipped", json::array{}}};
    cut.fridge.house.Do("care", care);
    CHECK(cut.fridge.house.TheWatch().TodaysRound().work.Left() == left - 1);
    CHECK_THAT(cut.Head(), Says("One not now: power first."));
  }
  SECTION("what a keeper has called something else bars nothing") {
    const std::string id = Text(cut.fridge.Standing().front().as_object(), "id");
    cut.fridge.house.Do("called", {{"alarm", id}, {"what", "power"}});
    CHECK(cut.Bars().at("Fridge") == "power");
    cut.fridge.house.Do("called", {{"alarm", id}, {"what", "probe"}});
    CHECK(cut.Bars().at("Fridge").empty());
  }
}

TEST_CASE("list and terminal say of a place that fell silent as a whole how it did, and how its air was before") {
  Cut cut;
  cut.Speak(20min, false);
  const std::regex said(R"(All its probes fell silent at once\. Air 12\.\d °C before\.)");
  CHECK(std::regex_search(cut.ListText(), said));
  CHECK(std::regex_search(NowText(Words::English(), cut.fridge.house.See("/api/caves")), said));
}

TEST_CASE("the terminal says of a power cut since when it lasts, and by when it comes to which wheels") {
  Cut cut;
  cut.Speak(20min, false);
  const std::string now = NowText(Words::English(), cut.fridge.house.See("/api/caves"));
  CHECK_THAT(now, Says("!! Fridge silent, perhaps without power since 11:"));
  CHECK_THAT(now, Says("If nothing cools there, it matters to:\n"));
  CHECK(std::regex_search(now, std::regex(R"(     6 bloomies, Fridge: (between|by|perhaps from) \d\d:)")));
}

TEST_CASE("of a place that is without power and without a figure of its gas, gas is what bars it") {
  Cut cut;
  const auto bar = [&] { return rindwatch::Bars(cut.fridge.house.Context()).Of(rules::CaveId{1}); };
  CHECK_FALSE(bar());
  json::object gas = AirProbe("Nose", "fridge/nose", InCave(1));
  gas["channels"] = json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}};
  cut.fridge.house.Do("probe", gas);
  cut.fridge.house.Keep({cut.fridge.house.Reading(7, 600)});
  cut.Speak(20min, false);
  CHECK(bar() == Bar::kGas);
}

}  // namespace
}  // namespace rindwatch
