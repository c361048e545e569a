// What a list says of alarms, those that stand and those that are over.
#include "tests/daemon/morning/mornings.hpp"

namespace rindwatch::morning {
namespace {

TEST_CASE("an alarm that stands for weeks says since which day and for how many days, not for how many hours") {
  List list = Saturday();
  list.alarms.front().since = At(7, 4, 0);
  list.alarms.front().lasts = minutes{504 * 60 + 27};
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("since Sat 7 04:00, 21 days") != std::string::npos);
  CHECK(text.find("504 h") == std::string::npos);
}

TEST_CASE("an alarm that somebody took stands behind the round in the subject, and asks for nothing more") {
  List list = Saturday();
  list.alarms.front().taken = true;
  list.alarms.front().taken_by = "TR";
  CHECK(Subject(Words::English(), list) == "Eight lines, a question, 31 min. Fridge too warm since 04:20.");
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("   TR took it.\n") != std::string::npos);
  CHECK(text.find("Nobody has taken it") == std::string::npos);
  CHECK(text.find("Shut the door") == std::string::npos);
}

TEST_CASE("gas stands first in the subject, taken or not, and what it bars is in no sum but is told") {
  List list = Saturday();
  Alarm gas;
  gas.cave = "Cellar";
  gas.kind = rules::AlarmKind::kCarbonDioxide;
  gas.since = At(28, 5, 10);
  gas.taken = true;
  gas.of_people = gas.acts = true;
  list.alarms.push_back(gas);
  list.barred.gas = 2;
  CHECK(Subject(Words::English(), list) ==
        "Cellar carbon dioxide high since 05:10. Fridge too warm since 04:20. Eight lines, a question, 31 min. Two not "
        "now: gas first.");
  list.left = list.questions = 0;
  const std::string none = Subject(Words::English(), list);
  CHECK(none == "Cellar carbon dioxide high since 05:10. Fridge too warm since 04:20. Two not now: gas first.");
  list.barred = {.gas = 1, .power = 3};
  CHECK(Subject(Words::English(), list).ends_with("One not now: gas first. Three not now: power first."));
}

TEST_CASE("an alarm of another day names it, in the subject and among what is over") {
  List list = Saturday();
  list.alarms.front().since = At(25, 23, 10);
  list.alarms.front().lasts = hours{55};
  list.before = {{At(25, 3, 59), "Cellar: too cold to 04:59."}, {At(27, 14, 10), "Box 1: too damp to 19:20."}};
  CHECK(Subject(Words::English(), list).starts_with("Fridge too warm since Wed 25 23:10. "));
  CHECK(Body(Words::English(), list)
            .find("Earlier, over since the last list\n"
                  "Wednesday 03:59\n          Cellar: too cold to 04:59.\n"
                  "Friday 14:10\n          Box 1: too damp to 19:20.\n") != std::string::npos);
}

TEST_CASE("what began while it was still evening is not told as of the night") {
  List list = Monday();
  list.night = {{At(29, 18, 9), "Cellar: too dry to 20:40."}, {At(29, 23, 5), "Fridge: too cold to 01:10."}};
  CHECK(Body(Words::English(), list)
            .find("Since the evening\n18:09     Cellar: too dry to 20:40.\n23:05     Fridge: too cold to 01:10.\n") !=
        std::string::npos);
}

TEST_CASE("what is to be done first is told once for all of which it is the same") {
  List list = Saturday();
  const std::vector<std::string> steps = list.alarms.front().first;
  for (const char* cave : {"Cellar", "Attic"}) {
    list.alarms.push_back(list.alarms.front());
    list.alarms.back().cave = cave;
    list.alarms.back().touched.clear();
  }
  list.alarms.back().first = {"Listen."};
  const std::string body = Body(Words::English(), list);
  const auto first = body.find(steps.front());
  REQUIRE(first != std::string::npos);
  CHECK(body.find(steps.front(), first + 1) == std::string::npos);
  CHECK(body.find("First           As for Fridge.\n") != std::string::npos);
  CHECK(body.find("1  Listen.\n") != std::string::npos);
  SECTION("not where whoever took the first of them is not told what to do") {
    list.alarms.front().taken = true;
    const std::string again = Body(Words::English(), list);
    CHECK(again.find(steps.front()) != std::string::npos);
    CHECK(again.find("As for Fridge.") == std::string::npos);
  }
}

TEST_CASE("what can wait and somebody took is a line in each list, and in no subject") {
  List list = Saturday();
  list.alarms.front().why = rules::Why::kPlanStep;
  CHECK(Subject(Words::English(), list).find("warmer than is asked now") != std::string::npos);
  CHECK(Body(Words::English(), list).find("6 bloomies") != std::string::npos);
  list.alarms.front().taken = true;
  CHECK(Subject(Words::English(), list).find("warmer than is asked now") == std::string::npos);
  const std::string body = Body(Words::English(), list);
  CHECK(body.find("Fridge warmer than is asked now") != std::string::npos);
  CHECK(body.find("6 bloomies") == std::string::npos);
}

TEST_CASE("what lies beyond its band and is written like the edge of it is just above or below it") {
  Alarm alarm = TooWarm();
  alarm.band = rules::Figure{10.5, 14.5, ""};
  alarm.value = 14.54;
  CHECK(AlarmWords(Words::English(), alarm).find(" Just above 14.5 °C, keep 10.5 to 14.5.") != std::string::npos);
  alarm.value = 14.56;
  CHECK(AlarmWords(Words::English(), alarm).find(" 14.6 °C, keep 10.5 to 14.5.") != std::string::npos);
  alarm.kind = rules::AlarmKind::kTooDry;
  alarm.band = rules::Figure{80, 90, ""};
  alarm.value = 79.6;
  CHECK(AlarmWords(Words::English(), alarm).find(" Just below 80 %, keep 80 to 90.") != std::string::npos);
  alarm.kind = rules::AlarmKind::kTooDamp;
  alarm.band = rules::Figure{90, 96, ""};
  alarm.value = 97;
  CHECK(AlarmWords(Words::English(), alarm).find(" 93+ %, keep 90 to 96.") != std::string::npos);
}

TEST_CASE("what stays unknown carries its day, wherever it ended, unless it began in the night of this list") {
  const auto said = [](LocalTime from, LocalTime to) {
    Cave counter = Stands("Counter", rules::CaveState::kNotWatched);
    counter.unknown = {{from, to}};
    return FigureWords(Words::English(), counter, Monday().day);
  };
  CHECK(said(At(29, 14, 30), At(29, 20, 0)) == "unknown Sun 29 14:30 to 20:00");
  CHECK(said(At(29, 18, 0), At(29, 20, 0)) == "unknown 18:00 to 20:00");
  CHECK(said(At(28, 23, 10), At(29, 19, 0)) == "unknown Sat 28 23:10 to 19:00");
  CHECK(said(At(28, 14, 30), At(29, 20, 0)) == "unknown Sat 28 14:30 to Sun 29 20:00");
  CHECK(said(At(29, 23, 10), At(30, 1, 0)) == "unknown 23:10 to 01:00");
  CHECK(said(At(30, 2, 10), At(30, 3, 0)) == "unknown 02:10 to 03:00");
}

TEST_CASE("what rang by day is not told as of the night when the list is asked for in the afternoon") {
  List list = Monday();
  list.at = At(30, 15, 0);
  list.since = {{At(30, 11, 20), "Fridge: too warm to 13:05."}};
  CHECK(Body(Words::English(), list).find("\nOver since the morning\n11:20     Fridge: too warm to 13:05.\n") !=
        std::string::npos);
  CHECK(Body(Words::English(), list).find("In the night") == std::string::npos);
}

TEST_CASE("what ended by day and began the evening before carries the day on which it began") {
  List list = Monday();
  list.at = At(30, 18, 0);
  list.since = {{At(29, 19, 20), "Fridge: plant not keeping up to Monday 14:00."}};
  CHECK(Body(Words::English(), list).find("\nOver since the morning\nSunday 19:20\n") != std::string::npos);
}

TEST_CASE("where the air lies inside the band while the alarm lasts, the words say so") {
  Alarm alarm = TooWarm();
  alarm.value = 13.9;
  CHECK(AlarmWords(Words::English(), alarm).ends_with(" 13.9 °C, still within 11 to 14."));
  // Near the edge it is not back yet.
  alarm.was_out = true;
  CHECK(AlarmWords(Words::English(), alarm).ends_with(" 13.9 °C, keep 11 to 14."));
  alarm.inside = true;
  alarm.trend = -1;
  CHECK(AlarmWords(Words::English(), alarm).ends_with(" 13.9 °C and falling, back within 11 to 14."));
  alarm.inside_since = alarm.since + minutes{40};
  CHECK(AlarmWords(Words::English(), alarm).ends_with(" 13.9 °C and falling, back within 11 to 14 since 05:00."));
  alarm.inside_since.reset();
  alarm.ends_at = 13.5;
  CHECK(AlarmWords(Words::English(), alarm)
            .ends_with(" 13.9 °C and falling, back within 11 to 14, not yet over: it ends below 13.5 °C, or "
                       "once it has long stayed inside."));
  alarm.ends_at.reset();
  alarm.inside = false;
  alarm.value = 14.1;
  alarm.trend = 1;
  CHECK(AlarmWords(Words::English(), alarm).ends_with(" 14.1 °C and rising, keep 11 to 14."));
}

TEST_CASE("where the last reading lies far from the mean, both are told") {
  Alarm alarm = TooWarm();
  alarm.value = 14.6;
  alarm.latest = 13.2;
  alarm.trend = 1;
  CHECK(AlarmWords(Words::English(), alarm)
            .ends_with(" 14.6 °C and rising, 13.2 °C by the last reading, keep 11 to 14."));
  Cave fridge = Stands("Fridge", rules::CaveState::kOutOfBand, 15.1, 49);
  fridge.side = 1;
  fridge.latest = 12.9;
  CHECK(FigureWords(Words::English(), fridge, Thursday().day) == "warm: 15.1 °C, 12.9 °C by the last reading; 49 %");
}

TEST_CASE("of a span of half a day or more nobody counts the minutes") {
  CHECK(LastsWords(Words::English(), minutes{11 * 60 + 59}) == "11 h 59 min");
  CHECK(LastsWords(Words::English(), minutes{26 * 60 + 31}) == "27 h");
  CHECK(LastsWords(Words::English(), minutes{47 * 60 + 45}) == "2 days");
  CHECK(LastsWords(Words::English(), minutes{59 * 60}) == "2 days 11 h");
  CHECK(LastsWords(Words::English(), minutes{7 * 24 * 60 + 100}) == "7 days");
}

TEST_CASE("in a note what asks has its own end") {
  Entry slimy = WasDue(Does("W2", {kTurn}, 1, "302", 3, 1), MakeDate(2026, 11, 23));
  slimy.line->look_first = {rules::LookFirst::kSlimy};
  slimy.line->evening = true;
  CHECK(NoteWords(Words::English(), *slimy.line, MakeDate(2026, 11, 26)) == "was due Monday. Slimy? Second time today");
}

TEST_CASE("a battery that runs low stands behind all else, in the subject and on the list") {
  List list = Saturday();
  Alarm battery;
  battery.cave = "Cellar";
  battery.kind = rules::AlarmKind::kBatteryLow;
  battery.since = At(28, 1, 0);
  battery.lasts = minutes{330};
  list.alarms.front().taken = true;
  list.alarms.push_back(battery);
  CHECK(Subject(Words::English(), list).ends_with("Fridge too warm since 04:20. Cellar battery low since 01:00."));
  const std::string body = Body(Words::English(), list);
  CHECK(body.find("Cellar battery low since 01:00") > body.find("\nCounter"));
  CHECK(body.find("!! Cellar battery low") == std::string::npos);
}

TEST_CASE("a forecast so wide that its end says nothing tells its beginning alone") {
  using namespace std::chrono_literals;
  const auto said = [](rules::Millis soonest, rules::Millis latest) {
    return MatterWords(Words::English(), soonest, latest);
  };
  CHECK(said(45min, 27h) == "in 45 min at the earliest");
  CHECK(said(0h, 27h) == "already near its limit");
  CHECK(said(0h, 6h) == "within 6 h");
  CHECK(said(90min, 390min) == "in 1 h 30 min at the earliest");
  CHECK(said(2h, 8h) == "in 2 to 8 h");
}

TEST_CASE("in a power cut the condition stands above the wheels, and no label is torn") {
  List list = Saturday();
  list.alarms.front().kind = rules::AlarmKind::kPowerGone;
  list.alarms.front().touched = {{6, "bloomies", "Box 1", "perhaps from 07:00 on"}};
  CHECK(Body(Words::English(), list)
            .find("   If nothing cools there:\n   It matters to   6 bloomies, Box 1     perhaps from 07:00 on\n") !=
        std::string::npos);
}

TEST_CASE("what it matters to is not torn over the time beside it: that goes below") {
  List list = Saturday();
  list.alarms.front().touched = {{6, "bloomies", "Box 1", "now"},
                                 {1, "pressed semi-hard", "Box 2", "in 1 h 45 min to 5 h 30 min"}};
  CHECK(Body(Words::English(), list)
            .find("   It matters to   6 bloomies, Box 1     now\n"
                  "                   1 pressed semi-hard, Box 2\n"
                  "                                         in 1 h 45 min to 5 h 30 min\n") != std::string::npos);
}

}  // namespace
}  // namespace rindwatch::morning
