// An alarm at its own address, from the ring to long after; the limits of a cave; who is there; what is out of service.
#include <algorithm>
#include <regex>

#include "daemon/api/limits_routes.hpp"
#include "daemon/api/views.hpp"
#include "daemon/command/text.hpp"
#include "daemon/replay/runner.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

std::string Text(const json::object& object, const char* name) { return std::string(object.at(name).as_string()); }
json::object Part(const json::object& object, const char* name) { return object.at(name).as_object(); }
json::array List(const json::object& object, const char* name) { return object.at(name).as_array(); }
std::int64_t Whole(const json::object& object, const char* name) { return object.at(name).to_number<std::int64_t>(); }

// A fridge with a probe and six small wheels in it.
struct WatchedFridge {
  TempFolder folder;
  Household house{folder / "rind.db", kThursday};

  WatchedFridge() {
    house.Begin();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    json::object bloomies = PressedWheels(6, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    bloomies["grams"] = 250;
    house.Do("enter", bloomies);
  }
  void Read(double temperature, rules::Millis span) {
    const rules::Instant end = house.Now() + span;
    while (house.Now() < end) {
      house.StepTo(house.Now() + 5min);
      // A value that never moves is a probe that is stuck.
      ++said;
      house.Reads(temperature + 0.05 * (said % 3), damp + said % 3);
    }
  }
  int said = 0;
  double damp = 91;
  std::string Ring() {
    Read(12, 3h);
    Read(17, 4h);
    const json::array alarms = Part(house.See("/api/caves"), "head").at("alarms").as_array();
    REQUIRE_FALSE(alarms.empty());
    return Text(alarms.front().as_object(), "id");
  }
  json::array Standing() { return Part(house.See("/api/caves"), "head").at("alarms").as_array(); }
  json::object Page(const std::string& id) { return house.See("/api/alarms/" + id); }
  json::object Fridge() { return Part(house.See("/api/caves/1"), "cave"); }
  json::object Row(const char* id) {
    const json::array rows = List(house.See("/api/caves/1/limits"), "rows");
    const auto row = std::ranges::find_if(rows, [&](const json::value& one) { return one.at("id").as_string() == id; });
    REQUIRE(row != rows.end());
    return row->as_object();
  }
};

TEST_CASE("a place whose probe is stuck says which one and since when") {
  WatchedFridge watched;
  watched.Read(12, 3h);
  for (int i = 0; i < 24 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    watched.house.Reads(12.05, 92);
  }
  const json::object air = Part(watched.Fridge(), "temperature");
  REQUIRE(Text(air, "state") == "unknown");
  CHECK_THAT(Text(air, "unknown_why"), Says("since ") && Says(": probe Fridge air stuck"));
  CHECK_FALSE(air.contains("silent_since"));
  // Which channel, and what it repeats.
  const json::array alarms = watched.Standing();
  const auto stuck =
      std::ranges::find_if(alarms, [](const json::value& one) { return one.at("kind").as_string() == "probe stuck"; });
  REQUIRE(stuck != alarms.end());
  const json::array said = List(stuck->as_object(), "said");
  REQUIRE(said.size() == 2);
  for (const json::value& one : said)
    CHECK(one.at("value").to_number<double>() == Approx(one.at("kind").as_string() == "humidity" ? 92 : 12.05));
  CHECK_THAT(watched.house.Get("/api/round/text").body, Says("Always the same: ") && Says("humidity 92.0 %"));
  watched.Read(12, 1h);
  CHECK_THAT(watched.house.Get("/api/round/text").body, Says("humidity 92.0 %") && Says("stays unknown."));
}

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

TEST_CASE("air that was out of its band before a cut says nothing of the plant when it is the same after it") {
  WatchedFridge watched;
  watched.Read(12, 3h);
  rules::Alarm alarm;
  alarm.id = "power-gone-1-1";
  alarm.kind = rules::AlarmKind::kPowerGone;
  alarm.cave = 1;
  alarm.since = alarm.raised = watched.house.Now() - 1h;
  alarm.over = watched.house.Now();
  alarm.before = 12.4;
  alarm.extreme = 12.9;
  alarm.warmest = 12.7;
  const auto says = [&] {
    const json::object told = AlarmJson(watched.house.Context(), alarm);
    return told.contains("edges") ? Text(told, "edges") : std::string{};
  };
  REQUIRE(Part(Part(watched.Fridge(), "temperature"), "band").at("high").to_number<double>() < 16);
  CHECK(says() == "The air is as it was before.");
  alarm.before = 16.0;
  alarm.extreme = 16.7;
  CHECK(says().empty());
  alarm.extreme = 17.1;
  CHECK(says() == "It warmed: the plant was without power too, or did not run.");
  // One probe that fell silent says nothing of power, and what stays within the band nothing of the plant.
  alarm.kind = rules::AlarmKind::kProbeSilent;
  CHECK(says() == "It warmed beyond its band: perhaps the plant did not run.");
  alarm.before = 12.4;
  alarm.extreme = 13.5;
  CHECK(says() == "It warmed, and kept its band.");
  alarm.kind = rules::AlarmKind::kPowerGone;
  CHECK(says() == "It warmed, and kept its band.");
}

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

TEST_CASE("once it is over those wheels stand first that came furthest, as it had come to them first") {
  WatchedFridge watched;
  json::object washed = PressedWheels(2, InCave(1), 40);
  washed["plan"] = "washed-soft";
  washed["grams"] = 2000;
  watched.house.Do("enter", washed);
  rules::Alarm alarm;
  alarm.id = "too-warm-1-1";
  alarm.kind = rules::AlarmKind::kTooWarm;
  alarm.cave = 1;
  alarm.since = alarm.raised = watched.house.Now() - 3h;
  alarm.over = watched.house.Now();
  alarm.wheels = {1, 2, 7, 8};
  const auto first = [&](double bloomies, double others) {
    alarm.own = {{others, {7, 8}}, {bloomies, {1, 2}}};
    const json::object told = AlarmJson(watched.house.Context(), alarm);
    return List(told, "concerns").front().as_object().at("own").to_number<double>();
  };
  CHECK(first(16.4, 14.6) == Approx(16.4));
  CHECK(first(14.2, 15.6) == Approx(15.6));
}

TEST_CASE("what a stuck probe said is no trace of its cave, neither while it is stuck nor when it is over") {
  WatchedFridge watched;
  watched.Read(12, 4h);
  const std::int64_t began = ToMillis(watched.house.Now());
  for (int i = 0; i < 8 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    watched.house.Reads(12.05, 92);
  }
  const auto unknown_since = [&] {
    const json::object cave = watched.Fridge();
    REQUIRE(cave.contains("doubts"));
    const json::array doubts = List(cave, "doubts");
    REQUIRE(doubts.size() == 2);  // its temperature and its humidity
    const json::object warmth = doubts.front().as_object();
    CHECK(Text(warmth, "channel") == "temperature");
    CHECK(Text(warmth, "kind") == "probe stuck");
    CHECK(Text(warmth, "probe") == "Fridge air");
    for (const json::value& point : List(Part(cave, "ribbon"), "temperature")) {
      const std::int64_t at = point.at(0).to_number<std::int64_t>();
      const bool after = at > Whole(warmth, "from") + 30 * 60'000 && at < Whole(warmth, "to");
      if (after) FAIL_CHECK("a point " << (at - began) / 60'000 << " min after it stood still");
    }
    CHECK(List(cave, "gaps").empty());
    CHECK(std::abs(Whole(warmth, "from") - began) <= 10 * 60'000);
    return warmth;
  };
  CHECK(Whole(unknown_since(), "to") == ToMillis(watched.house.Now()));
  const std::int64_t ended = ToMillis(watched.house.Now());
  watched.Read(12, 3h);
  CHECK(std::abs(Whole(unknown_since(), "to") - ended) <= 10 * 60'000);
  CHECK(List(Part(watched.Fridge(), "ribbon"), "temperature").back().at(0).to_number<std::int64_t>() ==
        ToMillis(watched.house.Now()));
}

TEST_CASE("while a second probe speaks a stuck one leaves nothing unknown, and the trace is the second's") {
  WatchedFridge watched;
  watched.house.Do("probe", AirProbe("Fridge door", "fridge/door", InCave(1)));
  for (int i = 0; i < 12 * 12; ++i) {
    watched.house.StepTo(watched.house.Now() + 5min);
    const bool stands = i > 48;
    watched.house.Reads(stands ? 11.0 : 12 + 0.05 * (i % 3), stands ? 92 : 91 + i % 3);
    watched.house.Reads(12 + 0.05 * (i % 3), 91 + i % 3, 3);
  }
  const json::object cave = watched.Fridge();
  CHECK_FALSE(cave.contains("doubts"));
  CHECK(List(Part(cave, "ribbon"), "temperature").back().at(1).to_number<double>() == Approx(12.05).margin(0.1));
}

TEST_CASE("an alarm has a page of its own: its cave's ribbon, whom it comes to, the lines about it") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  const json::object page = fridge.Page(id);
  const json::object alarm = Part(page, "alarm");
  CHECK(Text(alarm, "kind") == "too warm");
  CHECK(List(alarm, "first").size() == 3);
  CHECK_FALSE(List(alarm, "concerns").empty());
  CHECK(List(alarm, "concerns").front().at("grams").to_number<double>() == Approx(250));
  CHECK(Whole(Part(page, "cave"), "id") == 1);
  CHECK(Whole(Part(Part(page, "cave"), "ribbon"), "to") == ToMillis(fridge.house.Now()));
  CHECK_FALSE(List(page, "journal").empty());
  CHECK_FALSE(page.at("of_power").as_bool());
}

TEST_CASE("the ribbon of an alarm's page reaches from before it began to after its end, three days at most") {
  WatchedFridge fridge;
  fridge.Read(12, 3h);
  const rules::Instant began = fridge.house.Now();
  fridge.Read(17, 34h);
  const std::string id = Text(fridge.Standing().front().as_object(), "id");
  const auto reach = [&] {
    const json::object ribbon = Part(Part(fridge.Page(id), "cave"), "ribbon");
    return std::pair(Whole(ribbon, "from"), Whole(ribbon, "to"));
  };
  constexpr std::int64_t kHour = 3'600'000;
  SECTION("while it lasts it ends now") {
    const auto [from, to] = reach();
    CHECK(to == ToMillis(fridge.house.Now()));
    CHECK(from <= ToMillis(began) - 5 * kHour);
    CHECK(from >= ToMillis(began) - 8 * kHour);
  }
  SECTION("some hours of what followed are in it") {
    fridge.Read(12, 20h);
    const auto [from, to] = reach();
    CHECK(from <= ToMillis(began) - 5 * kHour);
    CHECK(to >= ToMillis(began) + 39 * kHour);
    CHECK(to < ToMillis(fridge.house.Now()));
    CHECK(Whole(Part(fridge.Fridge(), "ribbon"), "to") - Whole(Part(fridge.Fridge(), "ribbon"), "from") == 24 * kHour);
  }
  SECTION("of what lasts for longer the end is shown") {
    fridge.Read(17, 50h);
    const auto [from, to] = reach();
    CHECK(to - from == 72 * kHour);
  }
}

TEST_CASE("alarms that are over stand by when they began, the newest first, as they are labelled") {
  WatchedFridge fridge;
  fridge.Read(12, 4h);
  fridge.damp = 60;
  fridge.Read(12, 14h);  // too dry, which lasts
  fridge.Read(9, 3h);
  fridge.Read(18, 4h);
  fridge.Read(12, 6h);
  fridge.damp = 91;
  fridge.Read(12, 30h);
  const json::array past = List(fridge.house.See("/api/alarms"), "past");
  REQUIRE(past.size() >= 2);
  std::vector<std::int64_t> ends, begins;
  for (const json::value& one : past) {
    const json::object& alarm = one.as_object();
    ends.push_back(alarm.contains("back_since") ? Whole(alarm, "back_since") : Whole(alarm, "over"));
    begins.push_back(Whole(alarm, "since"));
  }
  CHECK(std::ranges::is_sorted(begins, std::ranges::greater{}));
  CHECK_FALSE(std::ranges::is_sorted(ends, std::ranges::greater{}));
}

TEST_CASE("an alarm that another one tells names that one, while both stand and when they are over") {
  WatchedFridge fridge;
  fridge.Read(12, 4h);
  fridge.damp = 60;
  fridge.Read(12, 14h);
  json::array standing = fridge.Standing();
  REQUIRE(standing.size() == 1);
  const std::string dry = Text(standing.front().as_object(), "id");
  CHECK(Text(standing.front().as_object(), "kind") == "too dry");
  CHECK_FALSE(Part(fridge.Page(dry), "alarm").contains("teller"));
  fridge.Read(18, 4h);
  standing = fridge.Standing();
  REQUIRE(standing.size() == 1);
  const std::string warm = Text(standing.front().as_object(), "id");
  CHECK(Text(standing.front().as_object(), "kind") == "too warm");
  const auto names_it = [&] {
    const json::object alarm = Part(fridge.Page(dry), "alarm");
    REQUIRE(alarm.contains("told_by"));
    CHECK(Text(alarm, "told_by") == warm);
    const json::object teller = Part(alarm, "teller");
    CHECK(Text(teller, "id") == warm);
    CHECK(Text(teller, "kind") == "too warm");
    CHECK(Text(teller, "cave_name") == "Fridge");
  };
  names_it();
  fridge.house.Do("take", {{"alarm", warm}});
  fridge.damp = 91;
  fridge.Read(18, 4h);
  REQUIRE(Part(fridge.Page(dry), "alarm").contains("over"));
  names_it();
  fridge.Read(12, 8h);
  REQUIRE(Part(fridge.Page(warm), "alarm").contains("over"));
  names_it();
}

TEST_CASE("journal and page tell one number of wheels, while an alarm comes to more of them and when it is over") {
  WatchedFridge fridge;
  // They are kept cooler than the bloomies are at that age, and are touched first.
  json::object tommes = InTheBox(PressedWheels(9, InCave(1), 30), 25);
  tommes["grams"] = 2000;
  fridge.house.Do("enter", tommes);
  fridge.Read(12, 3h);
  fridge.Read(14.8, 90min);
  fridge.Read(17, 3h);
  const std::string id = Text(fridge.Standing().front().as_object(), "id");
  const auto sum = [&](const char* list) {
    std::int64_t wheels = 0;
    for (const json::value& group : List(Part(fridge.Page(id), "alarm"), list))
      wheels += group.at("count").to_number<std::int64_t>();
    return wheels;
  };
  const auto all_tell = [&](std::int64_t wheels) {
    for (const json::value& line : List(fridge.Page(id), "journal")) {
      if (line.at("kind").as_string() == "alarm") CHECK(line.at("count").to_number<std::int64_t>() == wheels);
    }
  };
  // When it rang it had touched these alone, and came to the others.
  const auto journal = fridge.house.Journal();
  const auto rang = std::ranges::find(journal, "alarm", &JournalLine::kind);
  REQUIRE(rang != journal.end());
  CHECK(rang->wheels.size() == 9);
  CHECK(sum("concerns") == 15);
  all_tell(15);
  fridge.Read(12, 6h);
  REQUIRE(Part(fridge.Page(id), "alarm").contains("over"));
  const std::int64_t touched = sum("concerns");
  CHECK(touched == sum("wheels"));
  all_tell(touched);
  // Taken, the watch lets it go: the same number still.
  fridge.house.Do("take", {{"alarm", id}});
  CHECK(sum("concerns") == touched);
  all_tell(touched);
}

TEST_CASE("what a watcher on the fridge's own plug cannot know is said once: with the first that tells of power") {
  WatchedFridge fridge;
  fridge.house.Do("probe", AirProbe("Door", "fridge/door", InCave(1)));
  const auto read_both = [&](rules::Millis span) {
    const rules::Instant end = fridge.house.Now() + span;
    while (fridge.house.Now() < end) {
      fridge.house.StepTo(fridge.house.Now() + 1min);
      ++fridge.said;
      fridge.house.Reads(12 + 0.05 * (fridge.said % 3), 91 + fridge.said % 3);
      fridge.house.Reads(12 + 0.05 * (fridge.said % 4), 91 + fridge.said % 4, 3);
    }
  };
  const auto cut_off = [&] {
    read_both(2h);
    fridge.house.StepTo(fridge.house.Now() + 20min);
    const json::array alarms = fridge.Standing();
    REQUIRE_FALSE(alarms.empty());
    CHECK(Text(alarms.front().as_object(), "kind") == "power gone");
    return Text(alarms.front().as_object(), "id");
  };
  const std::string first = cut_off();
  CHECK(fridge.Page(first).at("of_power").as_bool());
  fridge.house.Do("take", {{"alarm", first}});
  const std::string second = cut_off();
  REQUIRE(second != first);
  CHECK_FALSE(fridge.Page(second).at("of_power").as_bool());
  // For good, also long after it is over.
  read_both(3h);
  CHECK(fridge.Page(first).at("of_power").as_bool());
  CHECK_FALSE(fridge.Page(second).at("of_power").as_bool());
}

TEST_CASE("what is not in the book has no page") {
  WatchedFridge fridge;
  CHECK(fridge.house.Get("/api/alarms/too-warm-1-5").status == 404);
  CHECK(fridge.house.Get("/api/caves/9/limits").status == 404);
}

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

TEST_CASE("long after it is over an alarm is still at its address, with its ribbon of then, and counts in the month") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  fridge.house.Do("take", {{"alarm", id}});
  fridge.house.Do("called", {{"alarm", id}, {"what", "door"}});
  fridge.Read(12, 40h);
  const auto is_it = [&](const json::value& one) { return one.at("id").as_string() == id; };
  CHECK(std::ranges::none_of(Part(fridge.house.See("/api/caves"), "head").at("alarms").as_array(), is_it));
  const json::object page = fridge.Page(id);
  const json::object alarm = Part(page, "alarm");
  CHECK(Whole(alarm, "over") < ToMillis(fridge.house.Now() - 20h));
  CHECK(alarm.contains("taken"));
  CHECK(alarm.at("dose").to_number<double>() > 0);
  CHECK(alarm.at("extreme").to_number<double>() == Approx(17).margin(0.5));
  CHECK(Whole(Part(Part(page, "cave"), "ribbon"), "to") == Whole(alarm, "over") + 6 * 3'600'000);
  const json::object all = fridge.house.See("/api/alarms");
  CHECK(std::ranges::count_if(List(all, "past"), is_it) == 1);
  CHECK_THAT(Text(List(all, "month").front().as_object(), "sentence"), Says("1 door"));
}

TEST_CASE("past midnight yesterday is the day before the keeper's, which stands in the head") {
  WatchedFridge fridge;
  fridge.Ring();
  const auto sentence = [&] { return Text(Part(fridge.house.See("/api/caves"), "head"), "sentence"); };
  const auto day = [&] { return Text(Part(fridge.house.See("/api/caves"), "head"), "day"); };
  const std::string thursday = day();
  const auto midnight = fridge.house.TheBook().Home().EndOf(*DayFrom(thursday)) - 4h;
  const auto read_to = [&](rules::Instant at) { fridge.Read(17, at - fridge.house.Now()); };
  read_to(midnight + 30min);
  CHECK(day() == thursday);
  CHECK_THAT(sentence(), Says("Fridge too warm since 12:"));
  read_to(midnight + 4h + 30min);
  CHECK(day() != thursday);
  CHECK_THAT(sentence(), Says("Fridge too warm since yesterday 12:"));
  CHECK(Whole(Part(fridge.house.See("/api/caves"), "head"), "day_turn") == 4);
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

TEST_CASE("probes that contradict each other: who says what is told, and the cave shows no mean") {
  WatchedFridge fridge;
  fridge.house.Do("probe", AirProbe("Door side", "fridge/door", InCave(1)));
  const auto both = [&](double shelf, double door, rules::Millis span) {
    const rules::Instant end = fridge.house.Now() + span;
    for (int i = 0; fridge.house.Now() < end; ++i) {
      fridge.house.StepTo(fridge.house.Now() + 5min);
      fridge.house.Reads(shelf + 0.05 * (i % 3), 91 + i % 3);
      fridge.house.Keep({fridge.house.Reading(3, door + 0.05 * (i % 3)), fridge.house.Reading(4, 91 + i % 3)});
    }
  };
  both(12, 12.4, 4h);
  both(12, 16, 9h);
  const json::object air = Part(fridge.Fridge(), "temperature");
  CHECK(Text(air, "state") == "unknown");
  CHECK_FALSE(air.contains("mean"));
  CHECK(Part(air, "odds").at("high").to_number<double>() == Approx(16).margin(0.2));
  std::size_t told = 0;
  for (const json::array standing = fridge.Standing(); const json::value& one : standing) {
    const json::object& alarm = one.as_object();
    ++told;
    CHECK(Text(alarm, "kind") == "too warm");
    CHECK(Text(alarm, "severity") == "watch");
    const json::array said = List(alarm, "said");
    REQUIRE(said.size() == 2);
    CHECK(said[0].at("probe").as_string() == "Fridge air");
    CHECK(said[1].at("probe").as_string() == "Door side");
    CHECK(said[1].at("value").to_number<double>() == Approx(16).margin(0.2));
    CHECK(alarm.at("value").to_number<double>() == Approx(16).margin(0.2));
    CHECK(List(fridge.Page(Text(alarm, "id")), "journal").size() >= 1);
  }
  CHECK(told == 1);
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

TEST_CASE("the ribbon of an alarm of long ago has the limits of then, not those of now") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  const auto band_of = [&](const char* which) {
    return Part(fridge.Page(id), which).at("band").at("high").to_number<double>();
  };
  const double then = band_of("alarm");
  fridge.Read(12, 30h);
  json::object hard = PressedWheels(1, InCave(1), 300);
  hard["plan"] = "hard-grating";
  fridge.house.Do("enter", hard);
  fridge.house.Do("limits", {{"cave", 1}, {"temperature", {{"low", 3}, {"high", 5}}}});
  fridge.Read(12, 30h);
  const json::array steps = List(Part(Part(fridge.Page(id), "cave"), "ribbon"), "bands");
  INFO(json::serialize(steps));
  CHECK(steps.back().at("temperature").at("high").to_number<double>() == Approx(then));
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

TEST_CASE("a probe out of service is neither silent nor judged, and its readings are kept") {
  WatchedFridge fridge;
  fridge.Read(12, 1h);
  fridge.house.Do("service", {{"probe", 1}, {"out", true}, {"why", "in the salt jar"}});
  fridge.Read(25, 8h);
  CHECK(Part(fridge.house.See("/api/caves"), "head").at("alarms").as_array().empty());
  const json::object probe = List(fridge.house.See("/api/caves/1"), "probes").front().as_object();
  CHECK(Text(Part(probe, "out_of_service"), "why") == "in the salt jar");
  CHECK_FALSE(probe.at("silent").as_bool());
  CHECK(Text(fridge.Fridge(), "state") == "not watched");
  CHECK_FALSE(List(Part(fridge.Fridge(), "ribbon"), "temperature").empty());
  fridge.house.Do("service", {{"probe", 1}, {"out", false}});
  fridge.Read(12, 2h);
  CHECK(Text(fridge.Fridge(), "state") == "in band");
  CHECK(fridge.house.Post(fridge.house.Act("service", {{"probe", 7}, {"out", true}})).status == 422);
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
