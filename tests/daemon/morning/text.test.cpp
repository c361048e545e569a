#include "daemon/morning/text.hpp"

#include <fstream>
#include <iterator>
#include <set>
#include <sstream>

#include "daemon/morning/columns.hpp"
#include "daemon/morning/left.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/moments.hpp"
#include "tests/catch.hpp"

namespace rindwatch::morning {
namespace {

using enum CareKind;
using rules::Change;
using rules::MakeDate;
using rules::RindClass;
using std::chrono::hours;
using std::chrono::minutes;

// Three mornings of IH and TR: a fridge with two boxes, a counter, a cellar. Invented.
LocalTime At(int day, int hour, int minute) {
  return LocalTime{MakeDate(2026, 11, 1)} + std::chrono::days{day - 1} + hours{hour} + minutes{minute};
}

Entry Does(const char* place, std::vector<CareKind> kinds, int count, const char* lot, int day, int taking) {
  Line line;
  line.place = place;
  line.kinds = std::move(kinds);
  line.count = count;
  line.lot = lot;
  line.day = day;
  line.minutes = taking;
  return {std::move(line), {}};
}
Entry WasDue(Entry entry, Date day) {
  entry.line->late_since = day;
  entry.line->state = rules::CareState::kLate;
  return entry;
}

Bring TwoWashes(std::vector<rules::Tool> tools) {
  Bring bring;
  bring.washes = {{16, 500, {}}, {16, 500, {}}};
  bring.cloths = 3;
  bring.tools = std::move(tools);
  bring.mask = true;
  return bring;
}

Cave Stands(const char* name, rules::CaveState state, std::optional<double> air = {}, std::optional<double> damp = {}) {
  Cave cave;
  cave.name = name;
  cave.state = state;
  cave.temperature = air;
  cave.humidity = damp;
  return cave;
}
Cave BoxTwo() {
  Cave box = Stands("Box 2", rules::CaveState::kNotWatched);
  box.has_lid = true;
  return box;
}

List Thursday() {
  List list;
  list.at = At(26, 6, 30);
  list.day = MakeDate(2026, 11, 26);
  list.left = 7;
  list.minutes = 20;
  list.bring = TwoWashes({rules::Tool::kSoftBrush});
  Entry drying = Does("Counter", {kTurn}, 1, "222", 1, 0);
  drying.line->drying = true;
  Entry brushed = WasDue(Does("B1", {kBrush, kTurn}, 9, "208", 61, 6), MakeDate(2026, 11, 23));
  brushed.line->look_first = {rules::LookFirst::kDusty};
  list.sections = {
      {RindClass::kFreshAndWhite,
       false,
       {},
       {Does("Box 1", {kTurn, kPat}, 6, "221", 8, 1), Does("Box 1", {kWrap}, 4, "218", 12, 2)}},
      {RindClass::kNaturalAndPressed,
       false,
       {Change::kGloves, Change::kCloth},
       {drying, Does("A1", {kWash, kTurn}, 9, "220", 6, 5), Does("A2", {kTurn}, 14, "214", 26, 2), brushed}},
      {RindClass::kWashed,
       false,
       {Change::kGloves, Change::kCloth, Change::kWash},
       {Does("Box 2", {kWash, kTurn}, 2, "217", 17, 1)}}};
  Cave box = Stands("Box 1", rules::CaveState::kDrifting, {}, 95);
  box.of_air = false;
  box.side = 1;
  box.has_lid = true;
  box.out_by = At(26, 10, 0);
  list.caves = {Stands("Fridge", rules::CaveState::kInBand, 12.4, 79), box, BoxTwo(),
                Stands("Counter", rules::CaveState::kNotWatched),
                Stands("Cellar", rules::CaveState::kInBand, 11.6, 87)};
  list.news = {{"Fridge", rules::CaveState::kInBand}, {"Box 1", rules::CaveState::kDrifting, false, 1}};
  list.tomorrow = ComingDay{MakeDate(2026, 11, 27), 9, {kWash}, "A1"};
  list.busiest = ComingDay{MakeDate(2026, 11, 28), 31, {kBrush, kTurn}, "B3"};
  return list;
}

List Monday() {
  List list;
  list.at = At(30, 6, 30);
  list.day = MakeDate(2026, 11, 30);
  list.early = {{"A2", {kTurn}, MakeDate(2026, 12, 1)}};
  list.next = {{MakeDate(2026, 12, 1), "A1", {kWash, kTurn}, 9, 5},
               {MakeDate(2026, 12, 1), "A2", {kTurn}, 14, 2},
               {MakeDate(2026, 12, 3), "Box 2", {kWash, kTurn}, 2, 1}};
  list.caves = {Stands("Fridge", rules::CaveState::kInBand, 12.3, 78),
                Stands("Box 1", rules::CaveState::kInBand, 12.4, 92), BoxTwo(),
                Stands("Counter", rules::CaveState::kNotWatched),
                Stands("Cellar", rules::CaveState::kInBand, 11.5, 86)};
  return list;
}

Alarm TooWarm() {
  Alarm alarm;
  alarm.cave = "Fridge";
  alarm.kind = rules::AlarmKind::kTooWarm;
  alarm.since = At(28, 4, 20);
  alarm.lasts = minutes{130};
  alarm.value = 15.9;
  alarm.band = rules::Figure{11, 14, ""};
  alarm.touched = {{6, "bloomies", "Box 1", "in 1 h 45 to 2 h 45"},
                   {4, "wrapped", "Box 1", "in 2 h 45 to 4 h 45"},
                   {2, "washed", "Box 2", "13:00 to 18:00"}};
  alarm.first = {"Shut the door. Ajar since 04:05.", "Listen: does the plant run? Do not open it.",
                 "Still warm at 08:00: carry Box 1 to the cellar."};
  return alarm;
}

List Saturday() {
  List list;
  list.at = At(28, 6, 30);
  list.day = MakeDate(2026, 11, 28);
  list.left = 8;
  list.questions = 1;
  list.minutes = 31;
  list.alarms = {TooWarm()};
  list.night = {{At(27, 22, 10), "Fridge: defrost, 18 min. The cheese did not feel it."},
                {At(28, 1, 40), "Cellar: probe silent to 03:20. That stays unknown."}};
  list.bring = TwoWashes({rules::Tool::kSoftBrush, rules::Tool::kOwnBrush, rules::Tool::kOil});
  list.bring.own_brush_for = "B3";
  Entry cut = WasDue(Does("B1", {kBrush, kTurn}, 9, "208", 63, 7), MakeDate(2026, 11, 23));
  cut.line->cut = 1;
  Entry mites = Does("B3", {kBrush}, 3, "205", 77, 3);
  mites.line->care = "brush outside";
  mites.line->numbers = {2, 6, 7};
  mites.line->mark = rules::FaultKind::kMiteDust;
  list.sections = {{RindClass::kFreshAndWhite, false, {}, {Does("Box 1", {kTurn, kPat}, 6, "221", 10, 1)}},
                   {RindClass::kNaturalAndPressed,
                    false,
                    {Change::kGloves, Change::kCloth},
                    {Entry{{}, Question{"Counter", "Dry to the touch?", "222", "", 3, {"dry", "not yet"}}},
                     Does("Counter", {kTurn}, 1, "222", 0, 0), Does("A1", {kWash, kTurn}, 9, "220", 8, 6),
                     Does("A2", {kTurn}, 14, "214", 28, 2), cut, Does("B3", {kBrush, kTurn}, 11, "205", 77, 8)}},
                   {RindClass::kWashed,
                    false,
                    {Change::kGloves, Change::kCloth, Change::kWash},
                    {Does("Box 2", {kWash, kTurn}, 2, "217", 19, 1)}},
                   {RindClass::kNaturalAndPressed, true, {Change::kGloves, Change::kBrush, Change::kMask}, {mites}}};
  Cave fridge = Stands("Fridge", rules::CaveState::kOutOfBand, 15.9, 75);
  fridge.side = 1;
  fridge.called = true;
  Cave box = Stands("Box 1", rules::CaveState::kInBand, 13.6, 92);
  box.trend = 1;
  Cave cellar = Stands("Cellar", rules::CaveState::kInBand, 11.6, 87);
  cellar.unknown = {{At(28, 1, 40), At(28, 3, 20)}};
  list.caves = {fridge, box, BoxTwo(), Stands("Counter", rules::CaveState::kNotWatched), cellar};
  return list;
}

std::string Golden(const char* name) {
  std::ifstream file(std::string(RINDWATCH_SOURCE_DIR "/tests/daemon/morning/golden/") + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

TEST_CASE("the list of a morning with seven lines and a box that drifts") {
  CHECK(Text(Words::English(), Thursday()) == Golden("thursday.txt"));
}

TEST_CASE("the list of a morning on which nothing is due says so and what comes next") {
  CHECK(Text(Words::English(), Monday()) == Golden("monday.txt"));
}

TEST_CASE("the list of a morning with an alarm opens with it") {
  CHECK(Text(Words::English(), Saturday()) == Golden("saturday.txt"));
}

TEST_CASE("the subject is the first line, alone") {
  CHECK(Subject(Words::English(), Monday()) == "Nothing to do today. Next: Tuesday, A1 and A2.");
  CHECK(Body(Words::English(), Monday()).starts_with("Monday 30 November, 06:30\n"));
}

TEST_CASE("of another day the list says which it is, and what is expected of it") {
  List list;
  list.day = MakeDate(2026, 12, 2);
  list.is_today = false;
  list.expected = true;
  CHECK(Text(Words::English(), list) ==
        "Subject: Nothing to do on Wednesday 2 December.\n\nWednesday 2 December\n\n"
        "Expected, if all is done until then.\n\nNothing to do on Wednesday 2 December.\n");
}

TEST_CASE("what is late for long is told with its date") {
  List list = Thursday();
  list.sections[1].entries[3].line->late_since = MakeDate(2026, 11, 16);
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("> was due Monday 16 November. Dusty? Mask\n") != std::string::npos);
}

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
  gas.of_people = true;
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

TEST_CASE("air that does not suit what lies in it is told with its figure and what is asked of it") {
  Cave box = Stands("Box 3", rules::CaveState::kOutOfBand, 12.5);
  box.has_lid = true;
  box.of_air = true;
  box.side = 1;
  box.keep = rules::Figure{0.5, 7.5, ""};
  CHECK(FigureWords(Words::English(), box, Monday().day) == "warm: 12.5 °C, keep 0.5 to 7.5");
}

TEST_CASE("a day of another year, months away, has its year") {
  const Date today = MakeDate(2026, 11, 30);
  CHECK(FarDay(Words::English(), MakeDate(2028, 9, 17), today) == "Sunday 17 September 2028");
  CHECK(FarDay(Words::English(), MakeDate(2027, 1, 10), today) == "Sunday 10 January");
}

TEST_CASE("what is done where a box grows dry stands beside it, as where it grows damp") {
  Cave box = Stands("Box 1", rules::CaveState::kDrifting, {}, 84);
  box.has_lid = true;
  box.of_air = false;
  box.side = -1;
  box.out_by = At(30, 9, 30);
  CHECK(FigureWords(Words::English(), box, Monday().day) == "84 %, out by 09:30. Lid shut, a wet cloth in it");
  box.state = rules::CaveState::kOutOfBand;
  CHECK(FigureWords(Words::English(), box, Monday().day) == "dry: 84 %. Lid shut, a wet cloth in it");
  box.has_lid = false;
  CHECK(FigureWords(Words::English(), box, Monday().day) == "dry: 84 %");
}

TEST_CASE("what began before the night stands apart from what began in it, with its day") {
  List list = Monday();
  list.night = {{At(29, 23, 5), "Fridge: too cold to 01:10."}};
  list.before = {{At(17, 9, 0), "Cellar: too dry to 16:40."}, {At(28, 14, 10), "Fridge: too warm to Sunday 02:00."}};
  list.caves.front().unknown = {{At(29, 14, 30), At(30, 2, 0)}};
  CHECK(Text(Words::English(), list) == Golden("monday-before.txt"));
  CHECK(BodyForPhone(Words::English(), list) == Golden("monday-before-phone.txt"));
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

TEST_CASE("a box whose warmth is judged by what it borrows says what of it is not watched") {
  Cave box = BoxTwo();
  box.unwatched = Cave::Unwatched::kHumidity;
  CHECK(StateWords(Words::English(), box) == "humidity not watched");
  List list = Monday();
  list.caves = {box};
  CHECK(Body(Words::English(), list).find("\nBox 2     humidity not watched; look at the lid: drops? dry?\n") !=
        std::string::npos);
  SECTION("also where what it borrows is out of its band") {
    box.state = rules::CaveState::kOutOfBand;
    box.of_air = true;
    box.side = 1;
    box.damp_unseen = true;
    CHECK(FigureWords(Words::English(), box, list.day) == "warm; humidity not watched");
  }
  SECTION("what is measured and not judged shows its figures") {
    box.unwatched = Cave::Unwatched::kJudging;
    box.temperature = 12.4;
    CHECK(StateWords(Words::English(), box) == "measured, not judged");
    CHECK(FigureWords(Words::English(), box, list.day) == "12.4 °C");
  }
}

TEST_CASE("a care of which the time is over is told as missed, and not as something to do") {
  Line salt;
  salt.place = "Box 1";
  salt.kinds = {CareKind::kSalt};
  salt.state = rules::CareState::kNotDone;
  CHECK(WhatWords(Words::English(), salt) == "not done; its stage is over");
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

TEST_CASE("a place without an alarm is out of band, with one it is too cold, and it shows no figure it does not have") {
  List list = Thursday();
  for (Cave& cave : list.caves) cave.state = rules::CaveState::kInBand;
  list.caves[0].state = list.caves[1].state = rules::CaveState::kOutOfBand;
  list.caves[0].side = list.caves[1].side = -1;
  list.caves[0].of_air = list.caves[1].of_air = true;
  list.news = {{"Fridge", rules::CaveState::kOutOfBand, true, -1}};
  list.caves[1].temperature = list.caves[1].humidity = std::nullopt;
  CHECK(Subject(Words::English(), list) == "Seven lines, 20 minutes. Fridge is out of band, cold.");
  CHECK(Body(Words::English(), list).find("\nBox 1     out of band     cold\n") != std::string::npos);
  list.caves[1].called = true;
  CHECK(Body(Words::English(), list).find("\nBox 1     out of band     too cold\n") != std::string::npos);
}

TEST_CASE("a weight is said in grams, from a kilogram on in kilograms") {
  CHECK(WeightWords(250) == "250 g");
  CHECK(WeightWords(1500) == "1.5 kg");
  CHECK(WeightWords(2000) == "2 kg");
  CHECK(WeightWords(2310) == "2.31 kg");
  CHECK(WeightWords(10000) == "10 kg");
}

TEST_CASE("in a note what asks has its own end") {
  Entry slimy = WasDue(Does("W2", {kTurn}, 1, "302", 3, 1), MakeDate(2026, 11, 23));
  slimy.line->look_first = {rules::LookFirst::kSlimy};
  slimy.line->evening = true;
  CHECK(NoteWords(Words::English(), *slimy.line, MakeDate(2026, 11, 26)) == "was due Monday. Slimy? Second time today");
}

TEST_CASE("places of which there is the same to say share a sentence") {
  List list = Thursday();
  list.caves.resize(3, list.caves.front());
  list.news = {{"Fridge", rules::CaveState::kUnknown},
               {"Box 1", rules::CaveState::kUnknown},
               {"Cellar", rules::CaveState::kUnknown}};
  CHECK(Subject(Words::English(), list) == "Seven lines, 20 minutes. Fridge, Box 1 and Cellar are unknown.");
  for (CaveNews& news : list.news) news = {news.cave, rules::CaveState::kOutOfBand, false, 1};
  list.news[2].side = -1;
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Fridge and Box 1 are out of band, damp. Cellar is out of band, dry.");
}

TEST_CASE("what is unknown says since when and why, alone and among others") {
  List list = Thursday();
  list.news = {{"Cellar", rules::CaveState::kUnknown, true, 0, "01:40", "probe Shelf silent"}};
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Cellar is unknown since 01:40: probe Shelf silent.");
  list.news.push_back({"Fridge", rules::CaveState::kUnknown, true, 0, "", "its probes contradict each other"});
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Cellar (since 01:40, probe Shelf silent) and Fridge (its probes contradict each "
        "other) are unknown.");
  Cave cellar = Stands("Cellar", rules::CaveState::kUnknown);
  cellar.why_unknown = "since 01:40: probe Shelf silent";
  CHECK(FigureWords(Words::English(), cellar, list.day) == "since 01:40: probe Shelf silent");
}

TEST_CASE("where no wheel lies there is nothing to look at") {
  Cave box = BoxTwo();
  CHECK(FigureWords(Words::English(), box, Thursday().day) == "look at the lid: drops? dry?");
  box.empty = true;
  CHECK(FigureWords(Words::English(), box, Thursday().day) == "empty");
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

TEST_CASE("a figure is never parted from its unit") {
  for (std::size_t width = 8; width < 60; ++width) {
    for (const std::string& line :
         Wrap("Air 15.9 °C, 70 %, 8000 ppm for 2 h 45 min; 16 g salt in 500 mL, a wheel of 2.5 kg", width)) {
      INFO(width << ": " << line);
      for (const char* unit : {"°C", "%", "ppm", "h", "min", "g", "mL", "kg"})
        CHECK_FALSE(
            (line == unit || line.starts_with(std::string(unit) + " ") || line.starts_with(std::string(unit) + ",")));
    }
  }
  CHECK(Unbroken("keep 93+ % for 2 h 45 min, 4 minutes, 3 grams") ==
        "keep 93+\u00a0% for 2\u00a0h\u00a045\u00a0min, 4 minutes, 3 grams");
}

TEST_CASE("what may be done early is said as it is spoken") {
  List list = Monday();
  list.early.front().kinds = {kWash, kTurn};
  CHECK(Body(Words::English(), list).find("A2 may be washed and turned today; it is due") != std::string::npos);
}

TEST_CASE(
    "in the evening what is settled is left out; the changes on the way stay, and what is over since the last list") {
  List list = Saturday();
  for (Entry& entry : list.sections[1].entries) {
    if (entry.line) entry.line->state = rules::CareState::kDone;
  }
  std::erase_if(list.sections[1].entries, [](const Entry& entry) { return !entry.line; });
  const List left = LeftOf(list);
  REQUIRE(left.sections.size() == 3);
  CHECK(left.sections[0].change.empty());
  CHECK(left.sections[1].change == std::vector<Change>{Change::kGloves, Change::kCloth, Change::kWash});
  // What is over since the last list is news in the evening too.
  CHECK(left.night.size() == list.night.size());
  for (Section& section : list.sections) {
    for (Entry& entry : section.entries) {
      if (entry.line) entry.line->state = rules::CareState::kDone;
    }
  }
  CHECK(LeftOf(list).sections.size() == 4);
}

TEST_CASE("no row is wider than 72 characters, whatever the names") {
  List list = Saturday();
  list.alarms.front().cave = "The long vaulted cellar under the old dairy";
  list.caves.front().name = "Käsekeller unter der alten Scheune";
  for (Section& section : list.sections) {
    for (Entry& entry : section.entries) {
      if (!entry.line) continue;
      entry.line->place = "Brett ganz hinten";
      entry.line->kinds = {kWash, kTurn, kPat, kWeigh, kOil};
      entry.line->lot = "Sommer 2026, zweite Milch, Nordseite des Stalls";
      entry.line->reason = "Überraschung: " + std::string(90, 'x');
    }
  }
  const auto check = [](const std::string& body, std::size_t width) {
    std::istringstream text(body);
    for (std::string row; std::getline(text, row);) {
      INFO(row);
      CHECK(WidthOf(row) <= width);
      CHECK((row.empty() || row.back() != ' '));
    }
  };
  check(Body(Words::English(), list), 72);
  check(BodyForPhone(Words::English(), list), 38);
}

TEST_CASE("on a phone the list says the same in fewer columns") {
  for (const List& list : {Thursday(), Monday(), Saturday()}) {
    const auto words_of = [](const std::string& text) {
      std::istringstream stream(text);
      std::multiset<std::string> all{std::istream_iterator<std::string>(stream), {}};
      all.erase("======");
      return all;
    };
    CHECK(words_of(BodyForPhone(Words::English(), list)) == words_of(Body(Words::English(), list)));
  }
  CHECK(BodyForPhone(Words::English(), Saturday()) == Golden("saturday-phone.txt"));
}

TEST_CASE("lines say in words what was done of them, what is new and what it takes") {
  List list = Thursday();
  Line& line = *list.sections.front().entries.front().line;
  line.done_kinds = {kTurn};
  line.new_cadence = rules::NewCadence{rules::TimesAWeek{2}, true};
  list.sections.back().entries.front().line->two_people = true;
  Line& skipped = *list.sections.front().entries.back().line;
  skipped.state = rules::CareState::kSkipped;
  skipped.reason = "no paper";
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("  turned. From tomorrow twice a week") != std::string::npos);
  CHECK(text.find("  two people") != std::string::npos);
  CHECK(text.find("Box 1     (wrap)") != std::string::npos);
  CHECK(text.find("  no paper") != std::string::npos);
}

TEST_CASE("washes of other strength say for whom they are; those alike need not") {
  List list = Thursday();
  list.bring.washes = {{15, 361, {}, {"B1"}}, {30, 721, {{"cider", 72}}, {"W1", "W2", "W2", "W3", "W4"}}};
  CHECK(Body(Words::English(), list)
            .find("Bring     15 g salt in 361 mL: for B1; 30 g salt in 721 mL, 72 mL cider:\n"
                  "          for W1 to W4; all in boiled, cooled water, for today;\n") != std::string::npos);
}

TEST_CASE("a part of a shelf is told by its numbers, a lone wheel that is held by its family and day") {
  List list = Thursday();
  Line& part = *list.sections[1].entries[2].line;
  part.numbers = {7, 3, 4, 5, 9};
  Line& held = *list.sections.back().entries.front().line;
  held.lot.clear();
  held.family = "Washed rind";
  held.held = true;
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("3 to 5, 7, 9: lot 214, day 26") != std::string::npos);
  CHECK(text.find("Washed rind, day 17, held") != std::string::npos);
}

TEST_CASE("a forecast so wide that its end says nothing tells its beginning alone") {
  using namespace std::chrono_literals;
  const auto said = [](rules::Millis soonest, rules::Millis latest) {
    return MatterWords(Words::English(), soonest, latest);
  };
  CHECK(said(45min, 27h) == "in 45 min at the earliest");
  CHECK(said(0h, 27h) == "perhaps soon");
  CHECK(said(0h, 6h) == "within 6 h");
  CHECK(said(90min, 390min) == "in 1 h 30 min at the earliest");
  CHECK(said(2h, 8h) == "in 2 to 8 h");
}

TEST_CASE("a subject is at most as long as a list of messages shows, and loses whole parts, the last first") {
  CHECK(ShortSubject("Fridge too warm since 15:06, 2 h. 13.4 °C, keep 6.5 to 13.5.") ==
        "Fridge too warm since 15:06, 2 h. 13.4 °C, keep 6.5 to 13.5.");
  const std::string urgent =
      "Urgent, still not taken: Fridge too warm since Fri 27 15:06, 7 h 50 min. 13.4 °C, 12.4 °C by "
      "the last reading, back within 6.5 to 13.5 since 22:54.";
  CHECK(ShortSubject(urgent) ==
        "Urgent, still not taken: Fridge too warm since Fri 27 15:06, 7 h 50 min. 13.4 °C, 12.4 °C by the last "
        "reading.");
  CHECK(ShortSubject(std::string(90, 'a') + ". " + std::string(90, 'b') + ", c.") == std::string(90, 'a') + ".");
  CHECK(ShortSubject(std::string(130, 'a')) == std::string(130, 'a'));
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

TEST_CASE("humidity that is measured and not judged is never told as in band") {
  Cave fridge = Stands("Fridge", rules::CaveState::kInBand, 12.6, 46);
  const auto said = [&] { return FigureWords(Words::English(), fridge, Saturday().day); };
  CHECK(said() == "12.6 °C, 46 %");
  fridge.damp_judged = false;
  CHECK(said() == "12.6 °C; 46 %, not judged");
  fridge.state = rules::CaveState::kOutOfBand;
  fridge.side = 1;
  CHECK(said() == "warm: 12.6 °C; 46 %, not judged");
  fridge.state = rules::CaveState::kNotWatched;
  fridge.unwatched = Cave::Unwatched::kJudging;
  CHECK(said() == "12.6 °C, 46 %");
}

}  // namespace
}  // namespace rindwatch::morning
