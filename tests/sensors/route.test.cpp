#include "sensors/route.hpp"

#include "tests/catch.hpp"

using namespace rindwatch::sensors;
using rindwatch::rules::ChannelKind;

namespace {

Route Json() {
  return {.filter = "cellar/box2",
          .probe = 1,
          .format = Format::kJson,
          .channels = {{11, ChannelKind::kTemperature, "/t", Unit::kCelsius},
                       {12, ChannelKind::kHumidity, "/h", Unit::kPercent}},
          .time_pointer = "/at"};
}
Route Plain(std::string filter) {
  return {.filter = std::move(filter),
          .probe = 1,
          .format = Format::kPlain,
          .channels = {{11, ChannelKind::kTemperature, "", Unit::kCelsius}},
          .time_pointer = {}};
}
bool Says(const Route& route, const std::string& words) {
  const auto faults = RouteFaults(route);
  return faults.size() == 1 && faults.front().find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a sound route has no faults") {
  CHECK(RouteFaults(Json()).empty());
  CHECK(RouteFaults(Plain("cellar/+/temperature")).empty());
}

TEST_CASE("each fault of a route is one sentence") {
  auto route = Json();
  SECTION("a filter with a wildcard in a wrong place") {
    route.filter = "cellar/box+";
    CHECK(Says(route, "a + stands in a wrong place"));
  }
  SECTION("no channel") {
    route.channels.clear();
    CHECK(Says(route, "names no channel"));
  }
  SECTION("a channel twice") {
    route.channels[1].channel = 11;
    CHECK(Says(route, "names a channel twice"));
  }
  SECTION("a pointer that is none") {
    route.channels[0].pointer = "t";
    CHECK(Says(route, "The pointer \"t\" of the temperature is none"));
    route.channels[0].pointer = "/t~2";
    CHECK(Says(route, "The pointer \"/t~2\""));
    route.channels[0].pointer = "/t~";
    CHECK(Says(route, "The pointer \"/t~\""));
    route.channels[0].pointer = "/t~0~1";
    CHECK(RouteFaults(route).empty());
  }
  SECTION("a pointer to the time that is none") {
    route.time_pointer = "at";
    CHECK(Says(route, "of the time is none"));
  }
  SECTION("a unit of another kind") {
    route.channels[1].unit = Unit::kCelsius;
    CHECK(Says(route, "The humidity cannot be counted in \"celsius\"; choose percent."));
  }
  SECTION("a kind from nowhere") {
    route.channels[1].kind = static_cast<ChannelKind>(200);
    CHECK(Says(route, "kind 200 is unknown"));
  }
  SECTION("a plain number with a pointer") {
    route = Plain("a");
    route.channels[0].pointer = "/t";
    CHECK(Says(route, "the payload is one plain number"));
  }
  SECTION("a plain number with a time") {
    route = Plain("a");
    route.time_pointer = "/t";
    CHECK(Says(route, "A plain number carries no time"));
  }
  SECTION("a plain number that is two channels") {
    route = Plain("a");
    route.channels.push_back({12, ChannelKind::kHumidity, "", Unit::kPercent});
    CHECK(Says(route, "the route names 2"));
  }
}

TEST_CASE("units and formats read back from their text") {
  for (const auto kind :
       {ChannelKind::kTemperature, ChannelKind::kHumidity, ChannelKind::kWheelTemperature, ChannelKind::kDoor,
        ChannelKind::kPlantPower, ChannelKind::kCarbonDioxide, ChannelKind::kAmmonia, ChannelKind::kBattery,
        ChannelKind::kWeight, ChannelKind::kHumidifierWater, ChannelKind::kDrainWater}) {
    CHECK(NameOf(kind) != "unknown");
    REQUIRE_FALSE(UnitsOf(kind).empty());
    for (const auto unit : UnitsOf(kind)) CHECK(UnitFromText(ToText(unit)) == unit);
  }
  CHECK(FormatFromText("plain") == Format::kPlain);
  CHECK(FormatFromText(ToText(Format::kJson)) == Format::kJson);
  CHECK_FALSE(UnitFromText("furlong"));
  CHECK_FALSE(FormatFromText(""));
}

TEST_CASE("a table finds the routes of a topic, plain ones and those with wildcards") {
  auto broken = Plain("a/#/b");
  const RouteTable table({Plain("a/b"), Plain("a/+"), Plain("a/b"), Plain("c/#"), broken});
  CHECK(table.For("a/b").size() == 3);
  CHECK(table.For("a/x").size() == 1);
  CHECK(table.For("c").size() == 1);
  CHECK(table.For("d").empty());
  CHECK(table.Filters() == std::vector<std::string>{"a/+", "a/b", "c/#"});
  CHECK(RouteTable().For("a").empty());
}
