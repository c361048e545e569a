// The round over the API: other days, short rounds, days without a line, what two keepers share.
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string At(const json::object& object, const char* name) { return std::string(object.at(name).as_string()); }

// Kinds and state of each line: "wash turn due".
std::vector<std::string> LinesOf(const json::object& round) {
  std::vector<std::string> told;
  for (const json::value& item : round.at("lines").as_array()) {
    std::string text;
    for (const json::value& kind : item.at("kinds").as_array()) text += std::string(kind.as_string()) + " ";
    told.push_back(text + At(item.as_object(), "state"));
  }
  return told;
}

struct House {
  House() : house(folder / "round.db", kThursday) {
    house.Begin();
    house.Do("enter", InTheBox(PressedWheels(3, NewCave("box"), 5), 2));
  }
  json::object Round(const std::string& query = "") { return house.See("/api/round" + query); }
  void Wash() { house.Do("care", Care({1, 2, 3}, {"wash", "turn"})); }

  TempFolder folder;
  Household house;
};

TEST_CASE("a round says its minutes, what to bring and the days to come") {
  House h;
  const json::object round = h.Round();
  CHECK(At(round, "day") == "2026-03-12");
  CHECK(LinesOf(round) == std::vector<std::string>{"wash turn due"});
  CHECK(round.at("minutes").to_number<double>() == 2);  // three wheels of 2 kg at 37 s
  CHECK(round.at("sections").as_array().size() == 1);
  const json::array& washes = round.at("bring").at("washes").as_array();
  REQUIRE(washes.size() == 1);
  CHECK(washes.at(0).at("wheels").to_number<int>() == 3);
  CHECK(washes.at(0).at("total_grams").to_number<double>() >= 100);
  CHECK(round.at("coming").as_array().size() >= 4);
  CHECK(round.at("lines").at(0).at("numbers") == json::array{1, 2, 3});
}

TEST_CASE("in the first days of a later part round and wheels say since what they are counted") {
  House h;
  const auto since = [&](const char* path, const char* list) {
    const json::object answer = h.house.See(path);
    return answer.at(list).at(0).as_object().contains("since") ? At(answer.at(list).at(0).as_object(), "since") : "";
  };
  CHECK(since("/api/round", "lines") == "entered box");
  CHECK(since("/api/wheels", "wheels") == "entered box");
  h.house.StepTo(kThursday + 8 * 24h);
  CHECK(since("/api/round", "lines").empty());
  CHECK(since("/api/wheels", "wheels").empty());
}

TEST_CASE("a day that is over is shown as it ended, a day to come as it is expected") {
  House h;
  h.Wash();
  h.house.StepTo(kThursday + 48h);
  const json::object over = h.Round("?date=2026-03-12");
  CHECK(LinesOf(over) == std::vector<std::string>{"wash turn done"});
  CHECK_FALSE(over.at("expected").as_bool());
  CHECK(LinesOf(h.Round("?date=2026-03-13")) == std::vector<std::string>{"wash turn due"});
  const json::object coming = h.Round("?date=2026-03-15");
  CHECK(coming.at("expected").as_bool());
  CHECK(LinesOf(coming) == std::vector<std::string>{"wash turn due"});
  CHECK(At(coming, "day") == "2026-03-15");
}

TEST_CASE("a day to come holds its own lines, each with its own recipe") {
  House h;
  h.house.Do("fault", {{"what", "slime"}, {"wheels", json::array{1}}, {"of", 3}, {"agreed", true}});
  const rules::Date today = h.house.TheBook().Home().DayOf(kThursday);
  bool found = false;
  for (int ahead = 1; ahead < 5; ++ahead) {
    const json::object coming = h.Round("?date=" + rules::ToText(today + std::chrono::days{ahead}));
    for (const std::string& line : LinesOf(coming)) {
      INFO(line);
      // An agreed look is a line of its own, never part of the wash.
      const bool looks = line.find("look") != std::string::npos;
      found |= looks;
      if (looks) CHECK(line == "look due");
    }
  }
  CHECK(found);
}

TEST_CASE("a round as it stood knows nothing of what came after") {
  House h;
  h.house.StepTo(kThursday + 1h);
  h.Wash();
  const auto asked = [&](rules::Instant at) { return LinesOf(h.Round("?at=" + std::to_string(ToMillis(at)))); };
  CHECK(asked(kThursday + 59min) == std::vector<std::string>{"wash turn due"});
  CHECK(asked(kThursday + 1h) == std::vector<std::string>{"wash turn done"});
  CHECK(asked(kThursday - 24h).empty());
}

TEST_CASE("a short round keeps and moves lines, and none is lost") {
  House h;
  h.house.Do("enter", PressedWheels(30, NewCave("counter"), 1));
  const json::object round = h.Round("?minutes=3");
  const json::object& cut = round.at("short").as_object();
  CHECK(cut.at("minutes").to_number<int>() == 3);
  CHECK(cut.at("used").to_number<int>() <= 3);
  CHECK(cut.at("keys").as_array().size() + cut.at("moved").as_array().size() == round.at("lines").as_array().size());
}

TEST_CASE("what is no date, span or instant is refused in a sentence") {
  House h;
  for (const char* query : {"?date=tomorrow", "?date=2026-02-30", "?date=2030-01-01", "?minutes=0", "?minutes=x",
                            "?minutes=9999", "?at=-1", "?at=now"}) {
    const web::Response response = h.house.Get(std::string("/api/round") + query);
    INFO(query);
    CHECK(response.status == 400);
    CHECK(json::parse(response.body).at("error").at("what").as_string().ends_with("."));
  }
}

TEST_CASE("days without a line are told from the first of them, until they are settled or somebody was away") {
  House h;
  h.Wash();
  h.house.StepTo(kThursday + 72h);
  CHECK_FALSE(h.Round().contains("quiet_since"));  // two days are no silence
  h.house.StepTo(kThursday + 96h);
  CHECK(At(h.Round(), "quiet_since") == "2026-03-13");
  h.Wash();
  CHECK_FALSE(h.Round().contains("quiet_since"));  // nothing is late any more
}

TEST_CASE("wheels that are a part of a shelf are told by their numbers, on the page and in the text") {
  House h;
  CHECK(h.Round().at("lines").at(0).at("lot_here").to_number<int>() == 3);
  CHECK(h.house.Get("/api/round/text").body.find("lot 1, day 2") != std::string::npos);
  h.house.Do("care", Care({2}, {"wash", "turn"}));
  const json::object round = h.Round();
  for (const json::value& line : round.at("lines").as_array()) CHECK(line.at("lot_here").to_number<int>() == 3);
  CHECK(h.house.Get("/api/round/text").body.find("1, 3: lot 1, day 2") != std::string::npos);
}

TEST_CASE("two strengths of one rind are told apart by the place of their wheels, on the page and in the text") {
  House h;
  json::object old = PressedWheels(20, NewCave("room"), 40);
  old["grams"] = 8000;
  h.house.Do("enter", InTheBox(std::move(old), 30));
  const json::object round = h.Round();
  const json::array& washes = round.at("bring").at("washes").as_array();
  REQUIRE(washes.size() == 2);
  CHECK(washes.at(0).at("places") == json::array{"Box 1"});
  CHECK(washes.at(1).at("places") == json::array{"Cellar"});
  const std::string text = h.house.Get("/api/round/text").body;
  CHECK(text.find(" mL: for Box 1; ") != std::string::npos);
  INFO(text);
  CHECK(text.find("Cellar; all in boiled, cooled water") != std::string::npos);
}

TEST_CASE("a look at the neighbours of a fault says what was found, and where") {
  House h;
  json::object fault{{"wheels", {2}}, {"what", "mite dust"}, {"of", 3}, {"agreed", true}};
  h.house.Do("fault", fault);
  json::object look;
  for (int day = 1; day < 5 && look.empty(); ++day) {
    h.house.StepTo(kThursday + day * 24h);
    const json::object round = h.Round();
    for (const json::value& line : round.at("lines").as_array()) {
      if (line.at("kinds") == json::array{"look"} && !line.as_object().contains("marked")) look = line.as_object();
    }
  }
  REQUIRE_FALSE(look.empty());
  CHECK(look.at("found_at") == json::array{{{"what", "mite dust"}, {"place", "Box 1"}}});
  CHECK(h.house.Get("/api/round/text").body.find("  mite dust, found at Box 1") != std::string::npos);
}

TEST_CASE("a board whose name stands in two caves is told with its cave") {
  House h;
  const auto on = [](json::object where) {
    where["shelf"] = "B3";
    return where;
  };
  h.house.Do("enter", PressedWheels(1, on(NewCave("fridge")), 2));
  const auto place = [&h] { return std::string(h.house.See("/api/wheels/4").at("wheel").at("place").as_string()); };
  CHECK(place() == "B3");
  h.house.Do("enter", PressedWheels(1, on(NewCave("room")), 2));
  CHECK(place() == "Fridge B3");
  CHECK(h.house.Get("/api/round/text").body.find("Cellar B3") != std::string::npos);
}

TEST_CASE("what is put off is asked of nobody until the next day, and of everybody once it is taken back") {
  House h;
  h.house.Do("enter", PressedWheels(1, NewCave("counter"), 3));
  const auto asked = [&h] { return h.Round().at("questions").as_array(); };
  REQUIRE(asked().size() == 1);
  const json::object question = asked().at(0).as_object();
  json::object later{{"wheels", question.at("wheels")}, {"question", question.at("text")}};
  later["start"] = question.at("start");
  const json::object done = h.house.Do("later", later);
  CHECK(asked().empty());
  CHECK(h.house.Get("/api/round/text").body.find("touch?") == std::string::npos);
  h.house.Do("undo", {{"of", done.at("id")}});
  CHECK(asked().size() == 1);
  h.house.Do("later", later);
  CHECK(asked().empty());
  h.house.StepTo(kThursday + 24h);
  CHECK(asked().size() == 1);
}

TEST_CASE("the list as text says the same as the page") {
  House h;
  const web::Response list = h.house.Get("/api/round/text");
  CHECK(list.status == 200);
  CHECK(list.content_type == "text/plain; charset=utf-8");
  CHECK(list.body.starts_with("Subject: One line, 2 minutes.\n\nThursday 12 March, 09:00\n"));
  CHECK(list.body.find("Box 1     wash, turn      3   lot 1, day 2 in the box            2 min\n") !=
        std::string::npos);
  h.Wash();
  const std::string done = h.house.Get("/api/round/text").body;
  CHECK(done.starts_with("Subject: All done for today. Next: Friday, Box 1.\n"));
}

}  // namespace
}  // namespace rindwatch
