// An alarm at its own address, from the ring to long after.
#include <algorithm>

#include "daemon/api/views.hpp"
#include "daemon/book/desk.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/api/watched_fridge.hpp"

namespace rindwatch {
namespace {

using namespace testing;

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

TEST_CASE("an alarm's page has the line by which it rang, however much was written after it") {
  WatchedFridge fridge;
  const std::string id = fridge.Ring();
  const auto lines = [&] {
    std::vector<std::int64_t> positions;
    for (const json::value& line : List(fridge.Page(id), "journal"))
      positions.push_back(Whole(line.as_object(), "position"));
    return positions;
  };
  const auto before = lines();
  REQUIRE_FALSE(before.empty());
  for (std::size_t note = 0; note < 2 * Book::kMostNewest + 50; ++note)
    fridge.house.Do("note", {{"text", "still here"}});
  CHECK(lines() == before);
  fridge.house.Do("take", {{"alarm", id}});
  const auto after = lines();
  REQUIRE(after.size() > before.size());
  CHECK(std::vector(after.begin(), after.begin() + std::ssize(before)) == before);
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

// The kinds that a wheel's page tells.
std::vector<std::string> ToldOfWheel(WatchedFridge& fridge, const char* wheel) {
  std::vector<std::string> kinds;
  for (const json::array told = List(fridge.house.See(std::string("/api/wheels/") + wheel), "excursions");
       const json::value& one : told)
    kinds.push_back(Text(one.as_object(), "kind"));
  std::ranges::sort(kinds);
  return kinds;
}

TEST_CASE("a wheel's page knows for how long its air was out: an alarm stands for longer than that") {
  WatchedFridge fridge;
  fridge.Ring();
  fridge.Read(12, 4h);
  const json::array told = List(fridge.house.See("/api/wheels/1"), "excursions");
  REQUIRE(told.size() == 1);
  const json::object out = told.front().as_object();
  REQUIRE(out.contains("beyond"));
  CHECK(Whole(out, "beyond") >= rules::Millis{3h}.count());
  CHECK(Whole(out, "beyond") < Whole(out, "to") - Whole(out, "from"));
}

// An alarm that is over by the word of the watch, over now.
rules::Alarm Ended(WatchedFridge& fridge, const char* id, rules::AlarmKind kind, rules::Millis ago, const char* told_by,
                   std::vector<rules::WheelId> wheels) {
  rules::Alarm alarm;
  alarm.id = id;
  alarm.kind = kind;
  alarm.cave = 1;
  alarm.since = alarm.raised = fridge.house.Now() - ago;
  alarm.over = fridge.house.Now();
  alarm.wheels = std::move(wheels);
  alarm.told_by = told_by;
  return alarm;
}

void Write(WatchedFridge& fridge, const rules::Alarm& alarm) {
  const rules::Decision decision{rules::Decision::Change::kOver, fridge.house.Now(), alarm};
  JournalLine line = OwnLine("alarm", alarm.id, RecordOf(decision), fridge.house.Now());
  line.cave = alarm.cave;
  auto facts = FactsOf(line);
  fridge.house.TheStore().Append(std::move(line), std::move(facts), [](const AppendResult&) {});
  fridge.house.Settle();
}

TEST_CASE("the page of a wheel tells one event once, however many alarms told it") {
  WatchedFridge fridge;
  const auto write = [&](const char* id, rules::AlarmKind kind, rules::Millis ago, const char* told_by,
                         std::vector<rules::WheelId> wheels) {
    Write(fridge, Ended(fridge, id, kind, ago, told_by, std::move(wheels)));
  };
  write("warm", rules::AlarmKind::kTooWarm, 5h, "", {1, 2});
  write("box", rules::AlarmKind::kTooWarm, 6h, "warm", {1});
  write("wet", rules::AlarmKind::kCondensation, 4h, "box", {1});
  write("plant", rules::AlarmKind::kPlantWeak, 20h, "warm", {1, 3});
  write("damp", rules::AlarmKind::kTooDamp, 5h, "warm", {1});
  CHECK(ToldOfWheel(fridge, "1") == std::vector<std::string>{"too warm"});
  CHECK(ToldOfWheel(fridge, "2") == std::vector<std::string>{"too warm"});
  // What tells it does not touch this one.
  CHECK(ToldOfWheel(fridge, "3") == std::vector<std::string>{"plant weak"});
  // Long before it was warm the air was dry: that is no part of it.
  write("dry", rules::AlarmKind::kTooDry, 20h, "warm", {1});
  CHECK(ToldOfWheel(fridge, "1") == std::vector<std::string>{"too dry", "too warm"});
}

json::object FirstOfWheel(WatchedFridge& fridge, const char* wheel) {
  const json::array told = List(fridge.house.See(std::string("/api/wheels/") + wheel), "excursions");
  REQUIRE(told.size() == 1);
  return told.front().as_object();
}

TEST_CASE(
    "a wheel in a box with a probe of its own has that air's hours and figure, not those of the fridge around it") {
  WatchedFridge fridge;
  fridge.house.Do("probe", AirProbe("Box air", "box/air", NewCaveIn("box", 1)));
  const rules::Instant now = fridge.house.Now();
  rules::Alarm around = Ended(fridge, "around", rules::AlarmKind::kTooWarm, 8h, "", {1, 2});
  around.extreme = 19.6;
  rules::Alarm box = Ended(fridge, "box", rules::AlarmKind::kTooWarm, 5h, "around", {1});
  box.cave = 2;
  box.extreme = 16.2;
  box.back_since = now - 1h;
  Write(fridge, around);
  Write(fridge, box);
  const json::object in_box = FirstOfWheel(fridge, "1"), in_fridge = FirstOfWheel(fridge, "2");
  CHECK(Whole(in_box, "from") == ToMillis(now - 5h));
  CHECK(Whole(in_box, "to") == ToMillis(now - 1h));
  CHECK(in_box.at("extreme").to_number<double>() == Approx(16.2));
  CHECK(Whole(in_fridge, "from") == ToMillis(now - 8h));
  CHECK(in_fridge.at("extreme").to_number<double>() == Approx(19.6));
}

TEST_CASE("the page of a wheel says how far the air has come by now, as its alarm does") {
  WatchedFridge fridge;
  fridge.Ring();
  fridge.Read(19, 2h);
  const json::array standing = fridge.Standing();
  REQUIRE(standing.size() == 1);
  const double reached = standing.front().as_object().at("extreme").to_number<double>();
  CHECK(reached > 18.5);
  CHECK(FirstOfWheel(fridge, "1").at("extreme").to_number<double>() == Approx(reached));
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

TEST_CASE("what rings is told by the calendar's days: past midnight an hour of the noon before is yesterday's") {
  WatchedFridge fridge;
  fridge.Ring();
  const auto sentence = [&] { return Text(Part(fridge.house.See("/api/caves"), "head"), "sentence"); };
  const auto day = [&] { return Text(Part(fridge.house.See("/api/caves"), "head"), "day"); };
  const std::string thursday = day();
  const auto midnight = fridge.house.TheBook().Home().EndOf(*DayFrom(thursday)) - 4h;
  const auto read_to = [&](rules::Instant at) { fridge.Read(17, at - fridge.house.Now()); };
  read_to(midnight + 30min);
  CHECK(day() == thursday);
  CHECK_THAT(sentence(), Says("Fridge too warm since yesterday 12:"));
  read_to(midnight + 4h + 30min);
  CHECK(day() != thursday);
  CHECK_THAT(sentence(), Says("Fridge too warm since yesterday 12:"));
  CHECK(Whole(Part(fridge.house.See("/api/caves"), "head"), "day_turn") == 4);
}

TEST_CASE("a list says of warm air that is over whether a wheel left its own band") {
  WatchedFridge fridge;
  fridge.Ring();
  fridge.Read(12, 4h);
  const auto list = [&] { return fridge.house.Get("/api/round/text").body; };
  CHECK_THAT(list(), Says("Beyond their own band: 6 bloomies, Fridge (16.5 °C, keep 8.5"));
  CHECK_THAT(list(), !Says("kept their own band"));
}

TEST_CASE("a list says so where every wheel kept its own band, however warm the air of the others was") {
  WatchedFridge fridge;
  fridge.house.Do("band", {{"wheels", Ids({1, 2, 3, 4, 5, 6})}, {"temperature", {{"low", 2}, {"high", 20}}}});
  fridge.house.Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  fridge.Ring();
  fridge.Read(12, 4h);
  CHECK_THAT(fridge.house.Get("/api/round/text").body, Says("all wheels kept their own band"));
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

}  // namespace
}  // namespace rindwatch
