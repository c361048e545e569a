// The limits of a cave: told, changed, tried, and as they were.
#include <regex>

#include "daemon/api/limits_routes.hpp"
#include "daemon/command/text.hpp"
#include "daemon/replay/runner.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("a step of a plan that ends because another band is asked says what moved it, and what is asked then") {
  WatchedFridge watched;
  watched.Read(12, 3h);
  const auto band = [&](double low, double high) {
    watched.house.Do("band", {{"wheels", Ids({1, 2, 3, 4, 5, 6})}, {"temperature", {{"low", low}, {"high", high}}}});
  };
  band(2, 6);
  watched.Read(12, 12h);
  const auto step = [&] {
    for (const json::value& one : watched.Standing())
      if (one.at("why").as_string() == "plan step") return one.as_object();
    throw std::runtime_error("no step");
  };
  CHECK_FALSE(step().contains("ended_by"));
  // What failed beside it meanwhile is told by its own alarm, and belongs to how far the air came all the same.
  watched.Read(18, 3h);
  watched.Read(12, 5h);
  CHECK(step().at("extreme").to_number<double>() > 17);
  band(10, 14);
  watched.Read(12, 1h);
  REQUIRE(step().contains("over"));
  CHECK(Text(step(), "ended_by") == "Limits were changed by hand. From then on 10 to 14 °C was asked.");
}

TEST_CASE(
    "an alarm that ends because its wheels were carried away says whereto, and the emptied place is measured alone") {
  const bool step = GENERATE(true, false);
  WatchedFridge watched;
  watched.Read(12, 3h);
  if (step) watched.house.Do("band", {{"wheels", Ids({1, 2, 3, 4, 5, 6})}, {"temperature", {{"low", 2}, {"high", 6}}}});
  watched.Read(step ? 12 : 18, 12h);
  REQUIRE_FALSE(watched.Standing().empty());
  const std::string id = Text(watched.Standing().front().as_object(), "id");
  // It may have been carried long before that was known here.
  const rules::Millis before = GENERATE(rules::Millis{0}, rules::Millis{2h});
  watched.house.Do("move", {{"wheels", Ids({1, 2, 3, 4, 5, 6})},
                            {"to", NewCave("room")},
                            {"tapped_at", ToMillis(watched.house.Now() - before)}});
  watched.Read(12, 1h);
  const json::object alarm = Part(watched.Page(id), "alarm");
  REQUIRE(alarm.contains("over"));
  CHECK(Text(alarm, "ended_by") == "6 bloomies, Fridge: carried to Cellar.");
  const std::string list = watched.house.Get("/api/round/text").body;
  CHECK_THAT(list, Says("carried to Cellar"));
  const std::string now = NowText(Words::English(), watched.house.See("/api/caves"));
  for (const std::string& text : {list, now})
    CHECK_THAT(text, Says("Fridge    measured, not judged") && !Says("Fridge    not watched"));
}

TEST_CASE("of two alarms of one place against two bands each says in the list whose band it is") {
  WatchedFridge watched;
  watched.Read(12, 24h);
  watched.house.Do("band", {{"wheels", Ids({1})}, {"temperature", {{"low", 2}, {"high", 6}}}});
  watched.Read(12, 1h);
  watched.Read(19, 4h);
  const auto list = [&] {
    return std::regex_replace(watched.house.Get("/api/round/text").body, std::regex(R"(\s+)"), " ");
  };
  CHECK_THAT(list(), Says("keep 8.5 to 15.5 for 5 bloomies.") && Says("keep 2 to 6 for 1 bloomy."));
  watched.house.Do("gone", {{"wheels", Ids({1})}, {"how", "eaten"}});
  watched.Read(19, 1h);
  CHECK_THAT(list(), Says("keep 8.5 to 15.5.") && !Says("15.5 for "));
}

TEST_CASE("an alarm whose air came back says nothing of wheels that went") {
  WatchedFridge watched;
  const std::string id = watched.Ring();
  watched.house.Do("move", {{"wheels", Ids({1})}, {"to", NewCave("room")}});
  watched.Read(12, 6h);
  const json::object alarm = Part(watched.Page(id), "alarm");
  REQUIRE(alarm.contains("over"));
  CHECK_FALSE(alarm.contains("ended_by"));
}

TEST_CASE("the journal says of limits from what to what, and which kinds are struck or judged again") {
  WatchedFridge fridge;
  const auto changed = [&](const char* kind, json::object act) {
    act["cave"] = 1;
    fridge.house.Do(kind, act);
    const json::array lines = List(fridge.house.See("/api/journal"), "lines");
    CHECK(Text(lines.back().as_object(), "kind") == kind);
    return lines.back().as_object();
  };
  const auto watching = [&](json::object settings, json::array off, bool ready) {
    return changed("watching", {{"settings", settings}, {"off", off}, {"ready_cheese", ready}});
  };
  const json::object first = Part(watching({{"too warm: watch after", 40}}, {"too damp"}, false), "limits");
  const json::object row = List(first, "settings").front().as_object();
  CHECK(List(first, "settings").size() == 1);
  CHECK(Text(row, "id") == "too warm: watch after");
  CHECK(Text(row, "unit") == "min");
  CHECK(row.at("was").to_number<double>() == 60);
  CHECK(row.at("now").to_number<double>() == 40);
  CHECK(List(first, "struck") == json::array{"too damp"});
  CHECK_FALSE(first.contains("judged"));
  CHECK_FALSE(first.contains("ready_cheese"));
  const json::object second = Part(watching({{"too warm: watch after", 50}}, {"too dry"}, true), "limits");
  CHECK(List(second, "settings").front().at("was").to_number<double>() == 40);
  CHECK(List(second, "struck") == json::array{"too dry"});
  CHECK(List(second, "judged") == json::array{"too damp"});
  CHECK(second.at("ready_cheese").as_bool());
  const json::object typed = changed("limits", {{"temperature", {{"low", 10}, {"high", 12}}}});
  const json::object warm = Part(Part(typed, "limits"), "temperature");
  CHECK_FALSE(warm.contains("was"));
  CHECK(Part(warm, "now").at("high").to_number<double>() == 12);
  CHECK_FALSE(Part(typed, "limits").contains("humidity"));
  const json::object back = Part(Part(changed("limits", {}), "limits"), "temperature");
  CHECK(Part(back, "was").at("low").to_number<double>() == 10);
  CHECK_FALSE(back.contains("now"));
  // The same once more changes nothing.
  CHECK_FALSE(changed("limits", {}).contains("limits"));
}

TEST_CASE("every limit is told with its usual value, its bounds and its source, and can be changed for a cave") {
  WatchedFridge fridge;
  CHECK(List(fridge.house.See("/api/caves/1/limits"), "rows").size() == rules::SettingRows().size());
  const json::object usual = fridge.Row("door: act after");
  CHECK(usual.at("value") == usual.at("usual"));
  CHECK_FALSE(Text(usual, "source").empty());
  fridge.house.Do(
      "watching",
      {{"cave", 1}, {"settings", {{"door: act after", 30}}}, {"off", json::array{"too dry"}}, {"ready_cheese", true}});
  CHECK(fridge.Row("door: act after").at("value").to_number<double>() == Approx(30));
  const json::object page = fridge.house.See("/api/caves/1/limits");
  CHECK(page.at("ready_cheese").as_bool());
  CHECK(List(page, "out_of_service").front().as_string() == "too dry");
  CHECK(List(fridge.Fridge(), "out_of_service").front().as_string() == "too dry");
}

TEST_CASE("a fridge for finished cheese is one from the moment it is entered") {
  WatchedFridge fridge;
  json::object where = NewCave("fridge");
  where.at("new").as_object()["ready_cheese"] = true;
  fridge.house.Do("enter", PressedWheels(2, where, 80));
  CHECK(fridge.house.See("/api/caves/2/limits").at("ready_cheese").as_bool());
  CHECK(fridge.house.TheBook().Cave(2)->watching_now.ready_cheese);
  fridge.house.Do("probe", AirProbe("Counter air", "counter/air", InCave(2)));
  fridge.Read(3, 20h);
  const json::object ribbon = Part(Part(fridge.house.See("/api/caves/2"), "cave"), "ribbon");
  INFO(json::serialize(ribbon.at("bands")));
  for (const json::value& step : List(ribbon, "bands")) {
    if (!step.as_object().contains("temperature")) continue;
    CHECK(step.at("temperature").at("low").to_number<double>() == Approx(0));
    CHECK(step.at("temperature").at("high").to_number<double>() == Approx(4));
  }
}

TEST_CASE("a fridge that is for finished cheese from now on draws the band of before up to now") {
  WatchedFridge fridge;
  fridge.Read(12, 5h);
  fridge.house.Do("watching",
                  {{"cave", 1}, {"settings", json::object{}}, {"off", json::array{}}, {"ready_cheese", true}});
  fridge.Read(3, 3h);
  const json::object ribbon = Part(fridge.Fridge(), "ribbon");
  INFO(json::serialize(ribbon.at("bands")));
  const json::array steps = List(ribbon, "bands");
  REQUIRE(steps.size() >= 2);
  CHECK(steps.back().at("temperature").at("high").to_number<double>() == Approx(4));
  CHECK(steps[steps.size() - 2].at("temperature").at("high").to_number<double>() > 4);
}

TEST_CASE("the band steps where it changed within the day: limits typed and taken back") {
  WatchedFridge fridge;
  fridge.Read(12, 2h);
  const json::array before = List(Part(fridge.Fridge(), "ribbon"), "bands");
  fridge.house.Do("limits", {{"cave", 1}, {"temperature", {{"low", 9}, {"high", 16}}}});
  const rules::Instant typed = fridge.house.Now();
  fridge.Read(12, 2h);
  const json::array after = List(Part(fridge.Fridge(), "ribbon"), "bands");
  REQUIRE(after.size() == before.size() + 1);
  const json::object last = after.back().as_object();
  CHECK(Whole(last, "from") == ToMillis(typed));
  CHECK(Part(last, "temperature").at("high").to_number<double>() == Approx(16));
  CHECK(Part(after[after.size() - 2].as_object(), "temperature").at("high") ==
        Part(before.back().as_object(), "temperature").at("high"));
}

// The routes of limits again, with somebody who replays.
struct TryingHouse : WatchedFridge {
  ReplayRunner runner{folder / "rind.db", Vienna(), house.Poster()};
  ApiContext context{house.Context()};
  web::Router router;

  TryingHouse() {
    context.replays = &runner;
    AddLimitsRoutes(router, context);
  }
  web::Response Ask(const char* method, const std::string& path, const std::string& body = "") {
    web::Request request;
    request.method = method;
    request.path = path;
    request.body = body;
    std::optional<web::Response> response;
    router.Handle(std::move(request), [&response](web::Response answer) { response = std::move(answer); });
    return *response;
  }
  json::object Await(const std::string& trial) {
    const auto guard = boost::asio::make_work_guard(house.Loop());
    while (true) {
      const json::object found = json::parse(Ask("GET", trial).body).as_object();
      if (found.at("done").as_bool()) return found;
      house.Loop().restart();
      house.Loop().run_one();
    }
  }
};

TEST_CASE("limits are tried on what was kept, beside the loop, and change nothing") {
  TryingHouse fridge;
  const std::string id = fridge.Ring();
  fridge.house.Do("take", {{"alarm", id}});
  fridge.house.Do("called", {{"alarm", id}, {"what", "plant"}});
  fridge.Read(12, 6h);
  const web::Response begun =
      fridge.Ask("POST", "/api/caves/1/limits/trials", R"({"temperature":{"low":5,"high":22}})");
  REQUIRE(begun.status == 202);
  const json::object found = fridge.Await("/api/limits/trials/1");
  CHECK(Whole(found, "then") == 1);
  CHECK(Whole(found, "now") == 0);
  CHECK(Part(found, "compared").at("real") == json::value{{"rang", 1}, {"still", 0}});
  CHECK(Text(found, "sentence") ==
        "With these limits nothing would have rung in the last day, not even for the one that you called real. Without "
        "them it rang once. Quiet notices: 1 instead of 0.");
  CHECK_FALSE(fridge.house.TheBook().Cave(1)->limits_now.temperature);
  CHECK(fridge.Ask("GET", "/api/limits/trials/9").status == 404);
  CHECK(fridge.Ask("POST", "/api/caves/1/limits/trials", R"({"settings":{"door: act after":9999}})").status == 422);
  CHECK(fridge.Ask("POST", "/api/caves/1/limits/trials", "[]").status == 422);
  CHECK(fridge.Ask("POST", "/api/caves/8/limits/trials", "{}").status == 404);
  for (const char* wrong : {R"({"of_wheels":["gas"]})", R"({"judged":["too dmp"]})", R"({"of":["humidity"]})"})
    CHECK(fridge.Ask("POST", "/api/caves/1/limits/trials", wrong).status == 422);
  CHECK(fridge
            .Ask("POST", "/api/caves/1/limits/trials",
                 R"({"of_wheels":["humidity"],"judged":["too damp"],"ready_cheese":true})")
            .status == 202);
}

}  // namespace
}  // namespace rindwatch
