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
