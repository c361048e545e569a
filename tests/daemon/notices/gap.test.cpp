// What a keeper reads of a time in which nobody watched: in letters, list, terminal and answers alike.
#include <regex>

#include "daemon/api/sentence.hpp"
#include "daemon/command/text.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

namespace {

// A fridge with a probe that spoke each minute until the watch was killed at 12:00; it is begun anew at 15:00.
struct Gap : Heard {
  static constexpr rules::Millis kOff = 3h, kBegan = kOff + 3h;

  explicit Gap(const char* least = "hint") {
    house->Do("service", {{"probe", 1}, {"out", true}});
    house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    Hears("IH", 1, {{"least", least}, {"list", "daily"}, {"morning", "06:30"}});
    Air(12.4, kOff);
    Start(kThursday + kBegan);
    house->Context().notices = notices.get();
  }
  // Of each minute until `until` after the beginning of all.
  void Air(double degrees, rules::Millis until) {
    while (house->Now() < kThursday + until) {
      house->StepTo(house->Now() + 1min);
      house->Reads(degrees + 0.1 * (++said % 2), 85, 2);
      house->Settle();
    }
  }
  Texts Letters() const {
    Texts letters = post.Subjects();
    std::erase_if(letters, [](const std::string& one) { return one.find("not watched") == one.npos; });
    return letters;
  }
  // On one line, wherever the list breaks it.
  std::string List() { return std::regex_replace(RoundText(), std::regex("\\s+"), " "); }
  std::string Now() { return NowText(Words::English(), house->See("/api/caves")); }
  json::object Told() {
    const json::array alarms = house->See("/api/caves").at("head").at("alarms").as_array();
    for (const json::value& one : alarms)
      if (one.at("kind").as_string() == "unwatched") return one.as_object();
    return {};
  }
  int said = 0;
};

}  // namespace

TEST_CASE("a start after a gap is one letter, with what the air did meanwhile, where the probe speaks soon") {
  const bool seen = GENERATE(false, true);
  Gap gap;
  gap.GoTo(Gap::kBegan + 2min);
  CHECK(gap.Letters().empty());
  gap.Air(15.1, Gap::kBegan + 20min);
  CHECK(gap.Letters() == Texts{"Fridge not watched from 12:00 to 15:00. It warmed to 15.2 °C."});
  const std::string list = gap.List(), now = gap.Now();
  CHECK_THAT(now, Says("Fridge not watched from 12:00 to 15:00. It warmed to 15.2 °C. ") && !Says("for a while"));
  for (const std::string& text : {list, now}) {
    CHECK_THAT(text, Says("12.4 °C before") && Says("15.2 °C after") && Says("at most about"));
    CHECK_THAT(text, Says("without power too") && !Says("stays unknown") && !Says("!!"));
  }
  if (seen) gap.house->Do("take", {{"alarm", gap.Told().at("id")}});
  gap.GoTo(Gap::kBegan + 72h);
  CHECK(gap.Letters() == Texts{"Fridge not watched from 12:00 to 15:00. It warmed to 15.2 °C."});
}

TEST_CASE("of a probe that speaks only long after a start two letters go, and the second one's subject is the news") {
  Gap gap;
  gap.GoTo(Gap::kBegan + 12min);
  const std::string head = "Fridge not watched from 12:00 to 15:00.";
  CHECK(gap.Letters() == Texts{head});
  gap.Air(15.1, Gap::kBegan + 25min);
  CHECK(gap.Letters() == Texts{head, head + " It warmed to 15.2 °C."});
}

TEST_CASE("while nothing is heard after a gap it stands in list, terminal and answers alike, as a hint, and is past") {
  Gap gap;
  gap.GoTo(Gap::kBegan + 30min);
  const std::string list = gap.List(), now = gap.Now();
  for (const std::string& text : {list, now}) {
    CHECK_THAT(text, Says("Fridge not watched from 12:00 to 15:00."));
    CHECK_THAT(text, Says("Nothing has been heard of its air") && Says("12.4 °C before"));
    CHECK_THAT(text, !Says("Over since") && !Says("!! Fridge not watched"));
    CHECK_THAT(text, Says("since 12:00: nobody watched to 15:00, since then probe Air silent"));
  }
  const json::object told = gap.Told();
  CHECK_FALSE(told.contains("over"));
  CHECK(told.at("back_since").to_number<std::int64_t>() == ToMillis(kThursday + Gap::kBegan));
  // It was from 12:00 to 15:00 hours later, too.
  gap.GoTo(Gap::kBegan + 6h);
  CHECK_THAT(gap.List(), Says("Fridge not watched from 12:00 to 15:00. Nothing has been heard"));
}

TEST_CASE(
    "a probe that spoke last when nobody watched any more is silent since the watch began again, and both are told") {
  Gap gap("watch");
  gap.GoTo(Gap::kBegan + 3h + 30min);
  const std::string last = "Its last word was of 12:00, and from then to 15:00 nobody watched.";
  const Texts subjects = gap.post.Subjects();
  REQUIRE_FALSE(subjects.empty());
  CHECK(subjects.front() == "Fridge probe silent since 15:00, 45 min.");
  CHECK_THAT(gap.post.sent.front().message, Says("Its last word was of 12:00, and from then to"));
  const std::string list = gap.List(), now = gap.Now();
  CHECK_THAT(list, Says("Fridge probe silent since 15:00, 3 h 30 min.") && Says(last) && !Says("silent since 12:00"));
  CHECK_THAT(now, Says("Fridge probe silent since 15:00.") && Says(last) && !Says("silent since 12:00"));
  const json::object head = gap.house->See("/api/caves").at("head").as_object();
  for (const json::value& one : head.at("alarms").as_array()) {
    if (one.at("kind").as_string() != "probe silent") continue;
    CHECK(one.at("since").to_number<std::int64_t>() == ToMillis(kThursday + Gap::kOff));
    CHECK(one.at("told_since").to_number<std::int64_t>() == ToMillis(kThursday + Gap::kBegan));
  }
  const json::object air = gap.house->See("/api/caves/1").at("cave").at("temperature").as_object();
  CHECK(air.at("silent_since").to_number<std::int64_t>() == ToMillis(kThursday + Gap::kBegan));
  // And when it is over.
  gap.Air(12.4, Gap::kBegan + 4h);
  CHECK_THAT(gap.post.Subjects().back(), Says("Over: Fridge probe silent, 15:00 to 18:3"));
}

namespace {

// A fridge whose two probes spoke as told; then the watch was killed and begun anew.
struct Silent : Heard {
  Silent() {
    house->Do("service", {{"probe", 1}, {"out", true}});
    house->Do("enter", InTheBox(PressedWheels(2, InCave(1), 20), 15));
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    house->Do("probe", AirProbe("Door side", "fridge/door", InCave(1)));
    Hears("IH", 1, {{"least", "watch"}, {"list", "daily"}, {"morning", "06:30"}});
    house->Context().notices = notices.get();
  }
  // Each minute until `until` after the beginning of all; `air` each so many of them, 0: never.
  void Speak(rules::Millis until, int air) {
    for (int minute = 1; house->Now() < kThursday + until; ++minute) {
      house->StepTo(house->Now() + 1min);
      house->Reads(12.5 + 0.1 * (minute % 2), 85, 4);
      if (air > 0 && minute % air == 0) house->Reads(12.4 + 0.1 * (++said % 2), 85, 2);
      house->Settle();
    }
  }
  void Restart(rules::Millis at) {
    Start(kThursday + at);
    house->Context().notices = notices.get();
  }
  json::object Told() {
    const json::object page = house->See("/api/alarms");
    for (const json::value& one : page.at("head").at("alarms").as_array())
      if (one.at("kind").as_string() == "probe silent") return one.as_object();
    for (const json::value& one : page.at("past").as_array())
      if (one.at("kind").as_string() == "probe silent") return one.as_object();
    return {};
  }
  std::string ToldAt(const char* field) {
    const json::object told = Told();
    if (!told.contains(field)) return "";
    const auto at = rules::FromMillis(told.at(field).to_number<std::int64_t>());
    return TimeWord(house->TheBook(), at);
  }
  std::string List() { return std::regex_replace(RoundText(), std::regex("\\s+"), " "); }
  int said = 0;
};

}  // namespace

TEST_CASE("of a probe that was silent over two times that nobody watched, each is told with its own hours") {
  Silent house;
  house.Speak(3h, 1);  // 12:00
  house.Restart(6h);   // 15:00
  house.Speak(9h, 0);  // 18:00
  house.Restart(10h);  // 19:00
  house.Speak(10h + 10min, 0);
  CHECK(house.ToldAt("since") == "12:00");
  CHECK(house.ToldAt("told_since") == "15:00");
  const std::string list = house.List();
  CHECK_THAT(list, Says("Fridge probe silent since 15:00"));
  CHECK_THAT(list, Says("Its last word was of 12:00, and from then to 15:00 nobody watched."));
  CHECK_THAT(list, Says("Nobody watched from 18:00 to 19:00."));
}

TEST_CASE("a probe that speaks each 40 minutes is silent since the watch began again, if it was not missed before") {
  Silent house;
  house.Speak(11h + 20min, 40);  // its last word: 20:20
  house.Speak(11h + 45min, 0);
  house.Restart(14h + 45min);  // 23:45
  house.Speak(18h, 0);
  CHECK(house.ToldAt("since") == "20:20");
  CHECK(house.ToldAt("told_since") == "23:45");
  CHECK_THAT(house.List(),
             Says("Its last word was of Thu 12 20:20, and from Thu 12 20:45 to Thu 12 23:45 nobody watched."));
}

TEST_CASE("what was silent in sight before nobody watched is silent since its last word, and when it is over too") {
  Silent house;
  house.Speak(3h, 1);  // 12:00
  house.Speak(3h + 9min, 0);
  house.Restart(6h);
  house.Speak(8h, 0);
  CHECK(house.ToldAt("since") == "12:00");
  CHECK(house.ToldAt("told_since") == "");
  CHECK_THAT(house.List(), Says("Nobody watched from 12:09 to 15:00.") && !Says("from then to 15:00"));
}

TEST_CASE("a silence that began unwatched has one date in letter, list, terminal, journal and pages, over too") {
  Silent house;
  house.Speak(3h, 1);
  house.Restart(6h);
  house.Speak(9h + 30min, 0);
  house.Speak(10h, 1);
  CHECK_THAT(house.post.Subjects().back(), Says("Over: Fridge probe silent, 15:00 to 18:31"));
  CHECK(house.ToldAt("told_since") == "15:00");
  const std::string now = NowText(Words::English(), house.house->See("/api/caves"));
  CHECK_THAT(now, Says("15:00 to 18:31") && !Says("12:00 to 18:31"));
  const json::object journal = house.house->See("/api/journal");
  int rows = 0;
  for (const json::value& line : journal.at("lines").as_array()) {
    const json::value* alarm = line.as_object().if_contains("alarm");
    if (!alarm || alarm->at("kind").as_string() != "probe silent") continue;
    ++rows;
    CHECK(alarm->at("told_since").to_number<std::int64_t>() == ToMillis(kThursday + 6h));
  }
  CHECK(rows >= 2);
  // The list of the next morning.
  house.GoTo(21h + 30min);
  CHECK_THAT(house.List(), Says("15:00 Fridge: probe silent to 18:31") && Says("unknown Thu 12 15:00 to 18:31"));
}

TEST_CASE("air that stayed as it was while nobody watched is told as that, to whoever wants hints alone") {
  Gap gap("watch");
  gap.Air(12.4, Gap::kBegan + 20min);
  CHECK(gap.Letters().empty());
  CHECK_THAT(gap.List(), Says("only the watch was off") && !Says("stays unknown"));
}

}  // namespace rindwatch
