// Who took an alarm, put it off or called it, and who is there.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("an alarm is taken, set aside with an end and called by its name, each told on its page") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  fridge.house.Do("aside", {{"alarm", id}, {"until", ToMillis(fridge.house.Now() + 2h)}});
  CHECK(Whole(Part(fridge.Page(id), "alarm"), "aside_until") == ToMillis(fridge.house.Now() + 2h));
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "IH"}});
  fridge.house.Do("called", {{"alarm", id}, {"what", "plant"}, {"remark", "Defrosted by hand"}});
  const json::object page = fridge.Page(id);
  const json::object alarm = Part(page, "alarm");
  CHECK(Text(alarm, "taken_by") == "IH");
  CHECK_FALSE(alarm.contains("aside_until"));
  CHECK(Text(alarm, "what") == "plant");
  CHECK(Text(alarm, "remark") == "Defrosted by hand");
  const json::object line = List(page, "journal").back().as_object();
  CHECK(Text(line, "kind") == "called");
  CHECK(Text(line, "text") == "Defrosted by hand");
  const auto tries = [&](rules::Millis span) {
    return fridge.house.Post(
        fridge.house.Act("aside", {{"alarm", id}, {"until", ToMillis(fridge.house.Now() + span)}}));
  };
  CHECK(tries(25h).status == 422);
  CHECK(tries(-1h).status == 422);
}

TEST_CASE("what is taken is not set aside, and can be once it has become worse") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  fridge.house.Do("take", {{"alarm", id}});
  const auto aside = [&] {
    return fridge.house.Post(fridge.house.Act("aside", {{"alarm", id}, {"until", ToMillis(fridge.house.Now() + 2h)}}));
  };
  CHECK_THAT(aside().body, Says("What is taken rings no more"));
  fridge.Read(24, 3h);
  CHECK(aside().status < 300);
}

TEST_CASE("of two takings the first to arrive stands, however late the other was tapped; the other is told beside it") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  const auto told = [&] { return Part(fridge.Page(id), "alarm"); };
  const rules::Instant tapped = fridge.house.Now();
  fridge.Read(17, 20min);
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "IH"}});
  const rules::Instant taken = fridge.house.Now();
  CHECK_FALSE(told().contains("also_took"));
  fridge.Read(17, 20min);
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "TR"}, {"tapped_at", ToMillis(tapped)}});
  const auto check = [&] {
    const json::object alarm = told();
    CHECK(Text(alarm, "taken_by") == "IH");
    CHECK(Whole(alarm, "taken") == ToMillis(taken));
    const json::array others = List(alarm, "also_took");
    REQUIRE(others.size() == 1);
    CHECK(others.front() ==
          json::value({{"keeper", "TR"}, {"at", ToMillis(tapped)}, {"arrived", ToMillis(taken + 20min)}}));
  };
  check();
  // Who taps twice is nobody else.
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "TR"}});
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "IH"}});
  check();
  fridge.Read(12, 8h);
  REQUIRE(told().contains("over"));
  CHECK(Text(told(), "taken_by") == "IH");
  CHECK_FALSE(told().contains("also_took"));  // nobody has to go
}

TEST_CASE("what got worse is taken anew: then who took the lesser thing is not the one who goes") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "IH"}});
  fridge.Read(24, 3h);
  REQUIRE_FALSE(Part(fridge.Page(id), "alarm").contains("taken"));
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "TR"}});
  const json::object alarm = Part(fridge.Page(id), "alarm");
  CHECK(Text(alarm, "taken_by") == "TR");
  CHECK_FALSE(alarm.contains("also_took"));
}

TEST_CASE("who tapped the lesser thing without reception has not taken what it became meanwhile") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  const rules::Instant tapped = fridge.house.Now();
  fridge.Read(24, 3h);
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "IH"}, {"tapped_at", ToMillis(tapped)}});
  CHECK_FALSE(Part(fridge.Page(id), "alarm").contains("taken"));
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "TR"}});
  const json::object alarm = Part(fridge.Page(id), "alarm");
  CHECK(Text(alarm, "taken_by") == "TR");
  CHECK_FALSE(alarm.contains("also_took"));
}

TEST_CASE("what lasts and nobody has taken is told first, then what is taken, then what is over") {
  WatchedFridge fridge;
  const auto sentence = [&] { return Text(Part(fridge.house.See("/api/caves"), "head"), "sentence"); };
  fridge.Ring();
  fridge.Read(12, 4h);
  CHECK_THAT(sentence(), Says("Fridge too warm from 12:25 to 16:15."));
  // A lesser thing that lasts comes before a graver one that is over.
  fridge.house.StepTo(fridge.house.Now() + 3h);
  const auto told = [&] {
    std::vector<std::string> stands;
    for (const json::value& alarm : fridge.Standing()) {
      const json::object& one = alarm.as_object();
      stands.push_back(one.contains("over") ? "over" : one.contains("taken") ? "taken" : "lasts");
    }
    return stands;
  };
  const std::vector<std::string> before = told();
  CHECK(before == std::vector<std::string>{"lasts", "over"});
  CHECK(sentence().find("since") < sentence().find("was too warm from"));
  // Taken, it still lasts, and comes before what is over.
  fridge.house.Do("take", {{"alarm", Text(fridge.Standing().front().as_object(), "id")}});
  CHECK(told() == std::vector<std::string>{"taken", "over"});
}

TEST_CASE("an alarm that was taken after it was over says by whom") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  fridge.Read(12, 6h);
  CHECK(Part(fridge.Page(id), "alarm").contains("over"));
  CHECK_FALSE(Part(fridge.Page(id), "alarm").contains("taken"));
  fridge.house.Do("take", {{"alarm", id}, {"keeper", "TR"}});
  fridge.Read(12, 1h);
  CHECK(Text(Part(fridge.Page(id), "alarm"), "taken_by") == "TR");
  // The journal says that it was seen, not that somebody took it.
  const json::array lines = List(fridge.Page(id), "journal");
  const auto seen = std::ranges::find_if(lines, [](const json::value& one) { return one.at("kind") == "take"; });
  REQUIRE(seen != lines.end());
  CHECK(seen->at("alarm").at("over").to_number<std::int64_t>() <= seen->at("at").to_number<std::int64_t>());
}

TEST_CASE("I am here quiets the cave for an hour and says until when; I am out ends it") {
  WatchedFridge fridge;
  fridge.Read(12, 1h);
  CHECK_FALSE(fridge.Fridge().contains("here_until"));
  fridge.house.Do("here", {{"cave", 1}});
  CHECK(Whole(fridge.Fridge(), "here_until") == ToMillis(fridge.house.Now() + 1h));
  fridge.house.Do("out", {{"cave", 1}});
  CHECK_FALSE(fridge.Fridge().contains("here_until"));
}

}  // namespace
}  // namespace rindwatch
