// Plans, previews and settings: what they tell, and what is wrong with a request.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

struct Kept {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  Kept() {
    house.Begin();
    house.Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 12), 9));
  }
  web::Response Preview(const std::string& body) {
    web::Request request;
    request.method = "POST";
    request.path = "/api/plans/preview";
    request.body = body;
    return house.Ask(std::move(request));
  }
  json::object Previewed(json::object wanted) {
    wanted["plan"] = "pressed-semi-hard";
    wanted["version"] = 1;
    const web::Response response = Preview(json::serialize(wanted));
    if (response.status != 200) throw std::runtime_error(response.body);
    return json::parse(response.body).as_object();
  }
};

json::array Rarer(int part, int stage, int care, int days) {
  return {{{"part", part}, {"stage", stage}, {"care", care}, {"set", {{"every_days", days}}}}};
}

TEST_CASE("every plan of the library is told whole, with its file") {
  Kept kept;
  for (const rules::Plan& plan : rules::PlanLibrary()) {
    CAPTURE(plan.id);
    const json::object page = kept.house.See("/api/plans/" + plan.id + "/" + std::to_string(plan.version));
    const json::object told = page.at("plan").as_object();
    CHECK(told.at("parts").as_array().size() == plan.parts.size());
    const auto read = rules::ReadPlan(std::string_view(told.at("text").as_string()), plan.id);
    REQUIRE(read.plan);
    CHECK(*read.plan == plan);
  }
  CHECK(kept.house.See("/api/plans/pressed-semi-hard/1").at("wheels") == json::value(Ids({1, 2})));
  for (const char* path : {"/api/plans/pressed-semi-hard/9", "/api/plans/rindless/1", "/api/plans/bloomy/x"}) {
    CHECK(kept.house.Get(path).status == 404);
  }
}

TEST_CASE("a preview tells the days before and after and what changed, and keeps nothing") {
  Kept kept;
  const std::size_t lines = kept.house.Journal().size();
  const json::object preview = kept.Previewed({{"edits", Rarer(1, 1, 0, 7)}, {"wheel", 1}});
  CHECK(preview.at("faults").as_array().empty());
  CHECK(preview.at("before").as_array().size() > preview.at("after").as_array().size());
  CHECK(preview.at("minutes_before").to_number<double>() > preview.at("minutes_after").to_number<double>());
  REQUIRE(preview.at("changed").as_array().size() == 1);
  CHECK_THAT(std::string(preview.at("changed").as_array().front().as_string()), Says("every 7 days, was"));
  CHECK(kept.house.Journal().size() == lines);
  CHECK(kept.house.TheBook().VersionsOf("pressed-semi-hard").size() == 1);
}

TEST_CASE("a preview without a wheel reckons no days") {
  Kept kept;
  const json::object preview = kept.Previewed({{"edits", Rarer(1, 0, 0, 3)}});
  CHECK(preview.at("before").as_array().empty());
  CHECK(preview.at("changed").as_array().size() == 1);
}

TEST_CASE("a plan that goes out as its file and comes in as it is changes nothing, and the preview says so") {
  Kept kept;
  const json::object page = kept.house.See("/api/plans/pressed-semi-hard/1");
  std::string text(page.at("plan").at("text").as_string());
  const json::object same = kept.Previewed({{"text", text}});
  CHECK(same.at("same").as_bool());
  CHECK(same.at("changed").as_array().empty());
  // A source alone changes no care, and is a new version all the same.
  const std::string source = "common practice, no source: until dry to the touch";
  REQUIRE(text.find(source) != std::string::npos);
  text.replace(text.find(source), source.size(), "as my aunt did");
  const json::object other = kept.Previewed({{"text", text}});
  CHECK_FALSE(other.at("same").as_bool());
  CHECK(other.at("changed").as_array().empty());
  CHECK_FALSE(kept.Previewed({{"edits", Rarer(1, 0, 0, 3)}}).at("same").as_bool());
}

TEST_CASE("a preview of what is not sound lists its faults beside the days as they are") {
  Kept kept;
  const json::object preview = kept.Previewed({{"text", "format = 1\nid = 3\n"}, {"wheel", 1}});
  CHECK_FALSE(preview.at("faults").as_array().empty());
  CHECK_FALSE(preview.at("before").as_array().empty());
  CHECK(preview.at("after").as_array().empty());
}

TEST_CASE("a preview that cannot be asked for is refused in one sentence") {
  Kept kept;
  for (const std::string body : {"", "[]", "{}", R"({"plan": "pressed-semi-hard", "version": 1})",
                                 R"({"plan": "rindless", "version": 1, "edits": [{}]})",
                                 R"({"plan": "pressed-semi-hard", "version": 1, "edits": [{}], "wheel": 9})"}) {
    CAPTURE(body);
    const web::Response response = kept.Preview(body);
    CHECK(response.status == 422);
    CHECK(json::parse(response.body).as_object().contains("error"));
  }
}

TEST_CASE("absences of the last season can be looked back on and struck out, older ones are history") {
  Kept kept;
  kept.house.Do("away", {{"from", DaysAgo(120)}, {"back", DaysAgo(95)}});
  kept.house.Do("away", {{"from", DaysAgo(5)}, {"back", DaysAgo(0)}});
  kept.house.Do("away", {{"from", DaysAgo(0)}, {"back", DaysAgo(-1)}});
  CHECK(kept.house.See("/api/settings").at("away").as_array().size() == 2);
}

TEST_CASE("the boards of a cave stand in walking order, their wheels from the door on") {
  Kept kept;
  for (const char* shelf : {"A1", "B1"}) {
    json::object where = InCave(1);
    where["shelf"] = shelf;
    kept.house.Do("enter", PressedWheels(2, where));
  }
  kept.house.Do("order", {{"cave", 1}, {"shelves", json::array{"B1", "A1"}}});
  kept.house.Do("hold", {{"wheels", Ids({6})}, {"held", true}, {"why", "slime"}});
  const json::array boards = kept.house.See("/api/caves").at("caves").as_array()[0].as_object().at("boards").as_array();
  REQUIRE(boards.size() == 3);
  CHECK(boards[0].at("place").as_string() == "");
  CHECK(boards[1].at("place").as_string() == "B1");
  CHECK(boards[1].at("wheels").as_array()[1].at("number").to_number<int>() == 2);
  CHECK(boards[1].at("wheels").as_array()[1].at("held").as_bool());
  CHECK_FALSE(boards[1].at("wheels").as_array()[0].at("held").as_bool());
}

}  // namespace
}  // namespace rindwatch
