#include "daemon/notices/letters.hpp"
#include "daemon/api/wheel_air.hpp"

#include <algorithm>
#include <regex>

#include "daemon/api/views.hpp"
#include "daemon/api/warnings.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

TEST_CASE("of several places that nobody watched the one that warmed the most leads, and each has its figures") {
  Heard heard;
  rules::Alarm calm;
  calm.id = "unwatched-1-1";
  calm.kind = rules::AlarmKind::kUnwatched;
  calm.severity = rules::Severity::kWatch;
  calm.why = rules::Why::kWarmedMeanwhile;
  calm.cave = 1;
  calm.since = kThursday - 5h;
  calm.over = kThursday;
  calm.before = 12.1;
  calm.value = calm.extreme = 14.6;
  calm.warmest = 13.0;
  rules::Alarm ready = calm;
  ready.id = "unwatched-2-1";
  ready.before = 2.9;
  ready.value = ready.extreme = 8.9;
  ready.warmest = 7.1;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const std::string text = PlainText(letters.OfSeveral({{"rings", "", &calm}, {"rings", "", &ready}}, false));
  CHECK(text.find("2.9") < text.find("12.1"));
  CHECK_THAT(text, Says("8.9 °C after") && Says("14.6 °C") && Says("7.1") && !Says("Over:"));
}

TEST_CASE("that gas is over says that the door may be shut; what is taken is not asked to be taken") {
  Heard heard;
  rules::Alarm gas;
  gas.id = "carbon-dioxide-1-1";
  gas.kind = rules::AlarmKind::kCarbonDioxide;
  gas.severity = rules::Severity::kAct;
  gas.cave = 1;
  gas.since = gas.raised = kThursday - 1h;
  gas.value = gas.extreme = 6000;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return PlainText(letters.OfSeveral({{"rings", "", &gas}}, true)); };
  CHECK_THAT(text(), Says("Open this alarm and take it"));
  gas.taken = kThursday;
  CHECK_THAT(text(), !Says("take it"));
  gas.over = kThursday;
  CHECK_THAT(text(), Says("the door may be shut"));
}

TEST_CASE("of several that are over the first is told like one alone: how long, how far, what it was") {
  Heard heard;
  rules::Alarm cold;
  cold.id = "too-cold-1-1";
  cold.kind = rules::AlarmKind::kTooCold;
  cold.cave = 1;
  cold.since = kThursday - 2h;
  cold.over = kThursday;
  cold.extreme = -1.7;
  cold.dose = 1.5;
  rules::Alarm door = cold;
  door.id = "door-open-1-1";
  door.kind = rules::AlarmKind::kDoorOpen;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const std::string text = PlainText(letters.OfSeveral({{"over", "", &cold}, {"over", "", &door}}, false));
  CHECK_THAT(text, Says("2 h") && Says("-1.7 °C") && Says("1.5 degree-hours") && Says("What was it?"));
  CHECK_THAT(text, Says("door left open"));
}

TEST_CASE("what rang before its air had left the band says as what, and a plant that fell behind how far at worst") {
  Heard heard;
  rules::Alarm warm;
  warm.id = "too-warm-1-1";
  warm.kind = rules::AlarmKind::kTooWarm;
  warm.cave = 1;
  warm.raised = kThursday - 3h;
  warm.since = kThursday - 2h;
  warm.over = kThursday;
  warm.extreme = 16;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return PlainText(letters.OfSeveral({{"over", "", &warm}}, false)); };
  CHECK_THAT(text(), Says("as getting warmer, before its air") && Says("Furthest"));
  warm.kind = rules::AlarmKind::kTooCold;
  CHECK_THAT(text(), Says("as getting colder, before its air"));
  warm.kind = rules::AlarmKind::kPlantWeak;
  warm.why = rules::Why::kSlowFall;
  warm.extreme = 0.72;
  CHECK_THAT(text(), Says("At worst") && Says("cooled at 72 %") && !Says("Furthest"));
}

TEST_CASE("a door that a contact told of is told with how far air and wheels came, where that is known") {
  Heard heard;
  rules::Alarm door;
  door.id = "door-open-1-1";
  door.kind = rules::AlarmKind::kDoorOpen;
  door.why = rules::Why::kContact;
  door.severity = rules::Severity::kAct;
  door.cave = 1;
  door.since = kThursday - 2h;
  door.over = kThursday;
  door.extreme = 19.1;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&] { return PlainText(letters.OfSeveral({{"over", "", &door}}, false)); };
  CHECK_THAT(text(), !Says("Furthest"));  // no thermometer, or no wheels
  door.own.push_back({16.2, {1}});
  CHECK_THAT(text(), Says("Furthest") && Says("19.1 °C"));
}

namespace {

// Three bloomies in a fridge, the first of which has a band of its own, and warmth that is over.
struct OverWarm : Heard {
  rules::Alarm warm;
  const std::string page = "http://cave.example:8417";
  OverWarm() {
    json::object bloomies = PressedWheels(3, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    house->Do("enter", bloomies);
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  }
  void HasItsOwnBand() { house->Do("band", {{"wheels", Ids({1})}, {"temperature", {{"low", 6.5}, {"high", 13.5}}}}); }
  void Air(double degrees, rules::Millis span) {
    const rules::Instant end = house->Now() + span;
    for (int said = 0; house->Now() < end; ++said) {
      house->StepTo(house->Now() + 5min);
      house->Reads(degrees + 0.02 * (said % 3), 90, 2);
    }
  }
  Texts Rows() {
    warm.id = "too-warm-1-1";
    warm.kind = rules::AlarmKind::kTooWarm;
    warm.severity = rules::Severity::kAct;
    warm.cave = 1;
    warm.since = warm.raised = house->Now() - 2h;
    warm.over = house->Now();
    warm.extreme = 16;
    warm.wheels = {1, 2, 3};
    warm.own = {{13.9, {1, 2, 3}}};
    Texts rows;
    for (const auto& block : Letters(house->Context(), page).OfSeveral({{"over", "", &warm}}, false).blocks)
      for (const auto& row : block.rows) rows.push_back(row.second);
    return rows;
  }
  bool Says(const std::string& wheels) {
    for (const auto& row : Rows()) UNSCOPED_INFO(row);
    return std::ranges::count(Rows(), wheels) == 1;
  }
};

}  // namespace

TEST_CASE("what is over says of the wheels that it touched whether they left their own band, each by its own") {
  OverWarm house;
  house.HasItsOwnBand();
  CHECK(house.Says("1 bloomy, Fridge: at the core at most about 13.9 °C, beyond the band of 6.5 to 13.5"));
  CHECK(house.Says("2 bloomies, Fridge: at the core at most about 13.9 °C, within the band of 8.5 to 15.5"));
  // Air that is still warm of the event itself was not so before. All of them want 6.5 to 13.5 by then.
  house.Air(12.5, 51h);
  house.Air(13.7, 1h);
  CHECK(house.Says("3 bloomies, Fridge: at the core at most about 13.9 °C, beyond the band of 6.5 to 13.5"));
}

TEST_CASE("wheels that lay beyond their own band before it, and do still, were not taken out of it by what is over") {
  OverWarm house;
  house.Air(14, 75h);  // their plan has come to ask for 6.5 to 13.5
  CHECK(house.Says("3 bloomies, Fridge: at the core at most about 13.9 °C; as before: wants 6.5 to 13.5"));
}

TEST_CASE("when the power is back the letter says how the air was at both edges and what a wheel can have become") {
  Heard heard;
  const ApiContext& context = heard.house->Context();
  const std::string page = "http://cave.example:8417";
  rules::Alarm alarm;
  alarm.id = "power-gone-1-1";
  alarm.kind = rules::AlarmKind::kPowerGone;
  alarm.cave = 1;
  alarm.since = kThursday - 2h;
  alarm.over = kThursday;
  alarm.value = 12.4;
  alarm.before = 12.4;
  alarm.extreme = 16.1;
  alarm.warmest = 14.62;
  const Letters letters(context, page);
  const rules::Notice over{"IH", alarm.id, rules::NoticeKind::kOver, kThursday};
  const auto says = [&](const std::string& words) {
    const Letter letter = letters.OfAlarm(over, alarm, Letters::Before::kNothing);
    return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
  };
  const std::string wheel = " By then the smallest wheel was at most about 14.6 °C; its core may still rise. ";
  CHECK(says("Air 12.4 °C before, 16.1 °C after." + wheel +
             "It warmed: the plant was without power too, or did not run."));
  // Beside another one that is over it has them too.
  rules::Alarm longer = alarm;
  longer.id = "power-gone-2-1";
  longer.since -= 1h;
  longer.extreme = 17.3;
  const std::string two = PlainText(letters.OfSeveral({{"over", "", &longer}, {"over", "", &alarm}}, false));
  CHECK(two.find("17.3 °C after") < two.find("Besides"));
  CHECK(two.find("12.4 °C before") < two.find("Besides"));
  CHECK(two.find("16.1 °C after") != std::string::npos);
  CHECK(two.find("16.1 °C after") > two.find("Besides"));
  alarm.extreme = 12.9;
  CHECK(says("Air 12.4 °C before, 12.9 °C after." + wheel + "The air is as it was before."));
}

namespace {

// An alarm of the fridge's air as the rules would hand it over, and the letter about it.
struct Told : Heard {
  const std::string page = "http://cave.example:8417";
  rules::Alarm alarm;
  explicit Told(rules::AlarmKind kind) {
    alarm.id = "told-1-1";
    alarm.kind = kind;
    alarm.severity = rules::Severity::kAct;
    alarm.cave = 1;
    alarm.since = alarm.raised = kThursday - 2h;
    alarm.band = rules::Figure{10, 14, ""};
  }
  int said = 0;
  // The probe that was hung there last says so each minute.
  void LiveAt(double degrees, rules::Millis span) {
    for (const rules::Instant end = house->Now() + span; house->Now() < end;) {
      house->StepTo(house->Now() + 1min);
      // A value that never moves is a probe that is stuck.
      ++said;
      house->Reads(degrees + 0.02 * (said % 3 - 1), 85, 2);
    }
  }
  Letter TheLetter() {
    const Letters letters(house->Context(), page);
    const rules::NoticeKind kind = alarm.over ? rules::NoticeKind::kOver : rules::NoticeKind::kRings;
    return letters.OfAlarm({"IH", alarm.id, kind, house->Now()}, alarm, Letters::Before::kNothing);
  }
  bool Says(const std::string& words) {
    const Letter letter = TheLetter();
    return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
  }
  json::object Json() { return AlarmJson(house->Context(), alarm); }
  Letter Of(rules::NoticeKind kind, Letters::Before before = Letters::Before::kNothing) {
    return Letters(house->Context(), page).OfAlarm({"IH", alarm.id, kind, house->Now()}, alarm, before);
  }
};

std::string OneLine(const std::string& text) { return std::regex_replace(text, std::regex(R"(\s+)"), " "); }

bool Holds(const Letter& letter, const std::string& words) {
  return std::ranges::any_of(letter.blocks, [&](const auto& block) { return block.text == words; });
}

}  // namespace

TEST_CASE("that nobody has taken it is news only once somebody could have, and what is urgent says so each time") {
  const std::string nobody = "Nobody has taken it yet.";
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.severity = rules::Severity::kUrgent;
  using enum rules::NoticeKind;
  CHECK(told.Of(kRings).subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_FALSE(Holds(told.Of(kRings), nobody));
  const Letter again = told.Of(kAgain);
  CHECK(again.subject.starts_with("Urgent, still not taken: Fridge too warm since"));
  CHECK(Holds(again, nobody));
  const Letter escalated = told.Of(kRings, Letters::Before::kOthersToo);
  CHECK(escalated.subject.starts_with("Urgent, nobody has come yet: Fridge"));
  CHECK(Holds(escalated, nobody));
  told.alarm.severity = rules::Severity::kAct;
  CHECK(told.Of(kAgain).subject.starts_with("Still not taken: Fridge"));
}

TEST_CASE("a letter that tells of several says how urgent the first is, and once that nobody has taken it") {
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.severity = rules::Severity::kUrgent;
  rules::Alarm damp = told.alarm;
  damp.id = "told-1-2";
  damp.kind = rules::AlarmKind::kTooDamp;
  damp.severity = rules::Severity::kWatch;
  const Letters letters(told.house->Context(), told.page);
  const auto of = [&](bool waited) {
    return letters.OfSeveral({{"rings", "", &damp, waited}, {"rings", "", &told.alarm, waited}}, false);
  };
  CHECK(of(false).subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_THAT(PlainText(of(false)), !Says("Nobody has taken it"));
  const Letter late = of(true);
  CHECK(late.subject.starts_with("Urgent: Fridge too warm since"));
  CHECK_THAT(late.subject, Says("Nobody has taken it. And one more."));
  CHECK_FALSE(Holds(late, "Nobody has taken it yet."));
}

TEST_CASE("of several gas leads, however grave the others are, and of a second gas nothing is left out") {
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.severity = rules::Severity::kUrgent;
  const auto gas = [&](rules::AlarmKind kind, const char* id) {
    rules::Alarm alarm;
    alarm.id = id;
    alarm.kind = kind;
    alarm.severity = rules::Severity::kAct;
    alarm.cave = 1;
    alarm.since = alarm.raised = alarm.asked = kThursday - 10min;
    alarm.value = alarm.extreme = kind == rules::AlarmKind::kCarbonDioxide ? 6000 : 30;
    return alarm;
  };
  const rules::Alarm carbon = gas(rules::AlarmKind::kCarbonDioxide, "carbon-dioxide-1-1");
  const rules::Alarm ammonia = gas(rules::AlarmKind::kAmmonia, "ammonia-1-1");
  const Letters letters(told.house->Context(), told.page);
  const Letter letter =
      letters.OfSeveral({{"rings", "", &told.alarm}, {"rings", "", &ammonia}, {"rings", "", &carbon}}, false);
  CHECK_THAT(letter.subject, Says("Fridge ammonia high since"));
  CHECK(letter.alarm == ammonia.id);
  const std::string text = PlainText(letter);
  CHECK_THAT(text, Says("Besides") && Says("carbon dioxide high since"));
  // What to do about each, and where the others are taken.
  for (const rules::Alarm* one : {&carbon, &ammonia})
    for (const std::string& warning : WarningsBesideWho(told.house->Context(), *one))
      CHECK_THAT(OneLine(text), Says(warning.c_str()));
  CHECK_THAT(text, Says("Open the others and take each") && Says("/alarms\n"));
}

TEST_CASE("a letter of several leads to the page where one tap takes them, and tells them as people count") {
  Told told(rules::AlarmKind::kPowerGone);
  for (const char* name : {"F1", "F10", "F2"})
    told.house->Do("probe", AirProbe(name, (std::string(name) + "/air").c_str(),
                                     json::object{{"new", {{"kind", "fridge"}, {"name", name}}}}));
  std::vector<rules::Alarm> alarms;
  for (const CaveRow* cave : told.house->TheBook().Caves()) {
    if (cave->name.front() != 'F' || cave->name == "Fridge") continue;
    alarms.push_back(told.alarm);
    alarms.back().cave = cave->id;
    alarms.back().id = "power-gone-" + std::to_string(cave->id) + "-1";
  }
  REQUIRE(alarms.size() == 3);
  std::vector<Letters::Told> rows;
  for (const rules::Alarm& alarm : alarms) rows.push_back({"rings", "", &alarm});
  const Letters letters(told.house->Context(), told.page);
  const Letter letter = letters.OfSeveral(rows, false);
  const std::string text = PlainText(letter);
  CHECK_THAT(text, Says("Open them and take all 3 with one tap\nhttp://cave.example:8417/alarms\n"));
  CHECK_THAT(text, !Says("/alarms/power"));
  CHECK(text.find("F2") < text.find("F10"));
  CHECK_THAT(letter.subject, Says("F1 "));
}

TEST_CASE("when the power is back its letter says how many lines of the round wait there") {
  Told told(rules::AlarmKind::kPowerGone);
  told.WheelsOfDawn();
  told.alarm.over = told.house->Now();
  CHECK(told.Says("One line of today's round waits there."));
  SECTION("none where the work is done") {
    told.Turns();
    CHECK_THAT(PlainText(told.TheLetter()), !rindwatch::testing::Says("waits there"));
  }
  SECTION("nor of what was never kept shut") {
    told.alarm.kind = rules::AlarmKind::kTooWarm;
    CHECK_THAT(PlainText(told.TheLetter()), !rindwatch::testing::Says("waits there"));
  }
}

TEST_CASE("a letter about a probe names it, and with its battery what it still holds") {
  Told told(rules::AlarmKind::kProbeSilent);
  told.alarm.probe = 1;
  told.alarm.band.reset();
  CHECK(told.Says("Its probe: Gas."));
  told.alarm.kind = rules::AlarmKind::kBatteryLow;
  told.alarm.value = 5;
  CHECK(told.Says("Its probe: Gas, 5 %."));
  // Each letter of it says how far it has come, and of what has just begun no minutes are counted.
  CHECK(told.Of(rules::NoticeKind::kRings).subject.ends_with("Fridge battery low since 07:00, 2 h. 5 %."));
  told.alarm.since = kThursday;
  CHECK(told.Of(rules::NoticeKind::kRings).subject.ends_with("Fridge battery low since 09:00. 5 %."));
}

TEST_CASE("how long it lasted is counted from the minutes that are shown") {
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.since = kThursday - 2h - 1min - 1s;  // 06:58
  told.alarm.back_since = kThursday;              // 09:00
  told.alarm.over = kThursday + 1h;
  const Letter letter = told.TheLetter();
  CHECK_THAT(PlainText(letter), Says("2 h 2 min"));
}

TEST_CASE("what a probe that was stuck or silent left unknown is said when it is over") {
  Told told(rules::AlarmKind::kProbeStuck);
  told.alarm.over = kThursday;
  told.alarm.said = {{1, rules::ChannelKind::kHumidity, 88.5}};
  CHECK(told.Says("That stays unknown."));
  CHECK(told.Says("Always the same: humidity 88.5 %."));
  // What the edges tell is not unknown.
  told.alarm.kind = rules::AlarmKind::kProbeSilent;
  told.alarm.said.clear();
  told.alarm.before = 12.4;
  told.alarm.extreme = 15.1;
  told.alarm.warmest = 12.9;
  CHECK_THAT(PlainText(told.TheLetter()), Says("Air 12.4 °C before, 15.1 °C after."));
  CHECK_FALSE(told.Says("That stays unknown."));
  told.alarm.before = told.alarm.warmest = std::nullopt;
  told.alarm.kind = rules::AlarmKind::kTooWarm;
  told.alarm.why = rules::Why::kOneProbe;
  told.alarm.said = {{1, rules::ChannelKind::kTemperature, 13.2}};
  CHECK_THAT(PlainText(told.TheLetter()), Says("Its probes contradicted each other") && !Says("13.2"));
  told.alarm.why = rules::Why::kBand;
  told.alarm.kind = rules::AlarmKind::kProbeWet;
  told.alarm.said = {{1, rules::ChannelKind::kHumidity, 99.2}};
  CHECK(told.Says("It said: humidity 99.2 %."));
  CHECK(told.Says("Its humidity then stays unknown."));
  CHECK_FALSE(told.Says("That stays unknown."));
  told.alarm.kind = rules::AlarmKind::kDoorOpen;
  CHECK_FALSE(told.Says("That stays unknown."));
}

TEST_CASE("of a time that nobody watched the letter says from when to when, and what to look at") {
  Told told(rules::AlarmKind::kUnwatched);
  told.alarm.severity = rules::Severity::kWatch;
  told.alarm.band.reset();
  told.alarm.over = told.alarm.raised = kThursday;
  const Letter letter = told.Of(rules::NoticeKind::kRings);
  CHECK(letter.subject == "Fridge not watched from 07:00 to 09:00.");
  const auto steps = std::ranges::find(letter.blocks, Letter::Block::Kind::kSteps, &Letter::Block::kind);
  REQUIRE(steps != letter.blocks.end());
  CHECK(steps->steps.size() == 3);
  CHECK(steps->steps.front() == "Read the thermometer there.");
  SECTION("as long as nothing is heard of the air it says so, and how it was before") {
    told.alarm.over.reset();
    told.alarm.back_since = kThursday;
    told.alarm.why = rules::Why::kUnheard;
    told.alarm.before = 12.4;
    told.house->StepTo(kThursday + 2h);
    CHECK(told.Of(rules::NoticeKind::kRings).subject == "Fridge not watched from 07:00 to 09:00.");
    CHECK(told.Says("Nothing has been heard of its air since."));
    CHECK(told.Says("Air 12.4 °C before."));
  }
}

TEST_CASE(
    "kept warmer than it was is said of a day: beside its mean stands the air of now, and whether it is in its band") {
  Told told(rules::AlarmKind::kPlantWeak);
  told.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  told.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  const auto air = [&](double degrees, rules::Millis span) { told.LiveAt(degrees, span); };
  told.alarm.why = rules::Why::kDayMeanUp;
  told.alarm.severity = rules::Severity::kWatch;
  told.alarm.value = told.alarm.extreme = 1.2;
  CHECK_FALSE(told.Json().contains("day_mean"));
  air(14.4, 2h);
  CHECK(told.Says("The mean of the day is 14.4 °C; now the air is 14.4 °C, keep 10 to 14."));
  air(12.9, 40min);
  CHECK(told.Says("The mean of the day is 14.0 °C; now the air is 12.9 °C, in its band of 10 to 14."));
  CHECK(told.Says("The mean of the day is up by 1.2 degrees."));
  // Once there are days before it to hold it against, what those had is said too.
  air(12.5, 49h);
  air(14, 1h);
  CHECK(
      told.Says("The mean of the day is 12.6 °C, in the days before 12.7 °C; now the air is 14.0 °C, in its band of "
                "10 to 14."));
  told.alarm.over = told.house->Now();
  CHECK_FALSE(told.Json().contains("day_mean"));
}

TEST_CASE("a wheel that lies past its own band in a place kept warmer is told so, and not when another band ends") {
  Told told(rules::AlarmKind::kTooWarm);
  told.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  told.alarm.wheels = {1, 2};
  told.alarm.matters = {{30min, 2h, {1, 2}}};
  told.alarm.value = told.alarm.extreme = 18.5;
  told.alarm.band = rules::Figure{16, 18, ""};
  CHECK_THAT(PlainText(told.TheLetter()), Says("already past") && !Says("in 30 min to 2 h"));
  told.alarm.band = BandAt(told.house->TheBook(), *told.house->TheBook().Wheel(1), told.house->Now());
  REQUIRE(told.alarm.band);
  CHECK_THAT(PlainText(told.TheLetter()), Says("in 30 min to 2 h") && !Says("already past"));
  // A band that reaches into its own, and air that in the days before was warmer than its own.
  told.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  told.alarm.band->high += 5;
  told.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10.5}, {"high", told.alarm.band->high}}}});
  CHECK_THAT(PlainText(told.TheLetter()), !Says("already past"));
  told.LiveAt(told.alarm.band->high - 2, 60h);
  CHECK_THAT(PlainText(told.TheLetter()), Says("already past") && !Says("in 30 min to 2 h"));
}

TEST_CASE("whoever hears that the power is back hears that the fridge is too warm still, and what to do about it") {
  Told told(rules::AlarmKind::kPowerGone);
  told.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  told.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  told.LiveAt(12.5, 3h);
  told.LiveAt(19, 5h);
  told.alarm.over = told.house->Now();
  CHECK_THAT(PlainText(told.TheLetter()),
             Says("Still: Fridge too warm since") && Says("Small wheels to a cold fridge."));
  told.LiveAt(12.5, 40min);
  CHECK_THAT(PlainText(told.TheLetter()), !Says("Still: "));
}

TEST_CASE("of wheels in air that is too cold it is said how far they have come so far") {
  Told told(rules::AlarmKind::kTooCold);
  told.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  told.alarm.wheels = {1, 2};
  told.alarm.value = told.alarm.extreme = 5;
  CHECK_THAT(OneLine(PlainText(told.TheLetter())), !Says("so far"));
  told.alarm.own = {{8.1, {1, 2}}};
  CHECK_THAT(OneLine(PlainText(told.TheLetter())), Says("so far at the core down to about 8.1 °C"));
}

TEST_CASE("of an alarm whose air was unknown for a while it is said for how long") {
  Told told(rules::AlarmKind::kTooWarm);
  told.alarm.over = told.alarm.raised + 6h;
  told.alarm.judged = 3h;
  CHECK_THAT(PlainText(told.TheLetter()), Says("6 h; for 3 h of it nobody knew its air"));
  told.alarm.judged = 6h;
  CHECK_THAT(PlainText(told.TheLetter()), !Says("nobody knew"));
}

TEST_CASE("a step that would take what stays out of its band asks for the wheel to be carried, and for no thermostat") {
  Told told(rules::AlarmKind::kTooWarm);
  told.house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
  told.house->Do("enter", InTheBox(PressedWheels(1, InCave(1), 20), 15));
  told.alarm.why = rules::Why::kPlanStep;
  told.alarm.wheels = {3};
  told.alarm.band = rules::Figure{0.5, 7.5, ""};
  CHECK_THAT(PlainText(told.TheLetter()), Says("Carry what wants it cooler") && !Says("Thermostat"));
  told.alarm.wheels = {1, 2, 3};
  CHECK_THAT(PlainText(told.TheLetter()), Says("Thermostat down a little."));
}

TEST_CASE("of cold air that falls fast it is said in how long it is at freezing, and of air at rest nothing") {
  Told told(rules::AlarmKind::kTooCold);
  told.house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
  told.house->Do("limits", {{"cave", 1}, {"temperature", {{"low", 10}, {"high", 14}}}});
  told.LiveAt(10.5, 2h);
  CHECK_FALSE(told.Json().contains("freezes"));
  // Six degrees an hour.
  for (int minute = 0; minute < 65; ++minute) told.LiveAt(10.5 - 0.1 * minute, 1min);
  CHECK(told.Says("At this pace 0 °C in 30 min to 1 h 30 min."));
  CHECK(told.Json().contains("freezes"));
  told.alarm.over = told.house->Now();
  CHECK_FALSE(told.Json().contains("freezes"));
}

TEST_CASE("what is over of warmth or cold says that it cost no day, where it touched wheels with a qualifying age") {
  Told told(rules::AlarmKind::kTooCold);
  told.house->Do("enter", PressedWheels(2, InCave(1), 10));
  told.alarm.wheels = {1, 2};
  told.alarm.over = kThursday;
  told.alarm.extreme = 5;
  const std::string none = "It costs no day of the qualifying age.";
  CHECK_FALSE(told.Says(none));
  CHECK_FALSE(told.Json().contains("uncounted"));
  // Days that were too cold are told where a wheel is counted at all, by its own rule.
  const rules::Date day{std::chrono::days{20'400}};
  told.alarm.cold_days = {{day, 3.9, {1, 2}}, {day + std::chrono::days{1}, 4.0, {1, 2}}};
  CHECK_FALSE(told.Json().contains("uncounted"));
  told.house->Do("rule", {{"wheels", Ids({2})},
                          {"rule",
                           {{"name", "60 days at 4 °C or more"},
                            {"start", "made"},
                            {"min_celsius", 4},
                            {"min_days", 60},
                            {"not_counting", json::array{}},
                            {"vouching", false}}}});
  CHECK(told.Json().at("uncounted").as_array().size() == 1);
  CHECK_FALSE(told.Says(none));
  // While it lasts the letter says so, too: something can still be done.
  told.alarm.over.reset();
  CHECK_THAT(PlainText(told.TheLetter()), Says("does not count: too cold."));
  told.alarm.over = kThursday;
  // The air alone costs nothing, and a wheel without a rule neither.
  told.alarm.extreme = 3;
  told.alarm.cold_days = {{day, 4.1, {2}}, {day, 3, {1}}};
  CHECK(told.Says(none));
  CHECK(told.Json().at("uncounted").as_array().empty());
  told.alarm.kind = rules::AlarmKind::kTooWarm;
  told.alarm.extreme = 17;
  CHECK(told.Says(none));
  told.alarm.ending = rules::Ending::kStruck;
  CHECK_FALSE(told.Says(none));
  told.alarm.why = rules::Why::kBand;
  told.alarm.over.reset();
  CHECK_FALSE(told.Json().contains("uncounted"));
}

TEST_CASE("wheels of one family and place are told apart by their weight where it comes to them at different times") {
  Told told(rules::AlarmKind::kTooWarm);
  for (const int grams : {1500, 6000}) {
    json::object tommes = PressedWheels(grams == 1500 ? 2 : 3, InCave(1), 10);
    tommes["grams"] = grams;
    told.house->Do("enter", tommes);
  }
  told.alarm.since = told.alarm.raised = told.house->Now();
  told.alarm.wheels = {1, 2};
  told.alarm.matters = {{0min, 0min, {1, 2}}, {180min, 290min, {3, 4, 5}}};
  const Letter letter = told.TheLetter();
  const auto rows = std::ranges::find_if(letter.blocks, [](const auto& block) { return !block.rows.empty(); });
  REQUIRE(rows != letter.blocks.end());
  REQUIRE(rows->rows.size() == 2);
  CHECK(rows->rows[0].first == "2 pressed semi-hard of 1.5 kg, Fridge");
  CHECK(rows->rows[0].second == "now");
  CHECK(rows->rows[1].first == "3 pressed semi-hard of 6 kg, Fridge");
  CHECK(rows->rows[1].second == "in 3 to 5 h");
  CHECK(told.Json().at("as_of").to_number<std::int64_t>() == ToMillis(told.house->Now()));
  // What may never come is not now.
  told.alarm.matters.front().latest.reset();
  CHECK(told.TheLetter().blocks[static_cast<std::size_t>(rows - letter.blocks.begin())].rows[0].second ==
        "already near its limit");
}

TEST_CASE("of one family, place and weight their state tells which are meant: what holds is kept cooler") {
  Told told(rules::AlarmKind::kTooWarm);
  for (const int age : {2, 30}) {
    json::object tommes = PressedWheels(2, InCave(1), age);
    if (age == 30) tommes = InTheBox(tommes, 27);
    tommes["grams"] = 2000;
    told.house->Do("enter", tommes);
  }
  told.alarm.since = told.alarm.raised = told.house->Now();
  told.alarm.wheels = {1, 2};
  told.alarm.matters = {{0min, 0min, {1, 2}}, {180min, 290min, {3, 4}}};
  const Letter letter = told.TheLetter();
  const auto rows = std::ranges::find_if(letter.blocks, [](const auto& block) { return !block.rows.empty(); });
  REQUIRE(rows != letter.blocks.end());
  CHECK(rows->rows[0].first == "2 pressed semi-hard, drying, Fridge");
  CHECK_THAT(rows->rows[1].first, Says("2 pressed semi-hard, r") && Says(", Fridge"));
}

TEST_CASE("an alarm of a box says what to do about a box") {
  Told told(rules::AlarmKind::kTooDamp);
  told.house->Do("enter", PressedWheels(1, NewCaveIn("box", 1), 10));
  told.alarm.since = told.alarm.raised = told.house->Now();
  const auto first = [&] { return std::string(told.Json().at("first").as_array().front().as_string()); };
  CHECK(first() == "Does water come in: seal, drain?");
  told.alarm.cave = 2;
  CHECK(first() == "Open the lid a finger, wipe its drops off.");
}

}  // namespace rindwatch
