// What a letter says of a silence beside which another probe speaks, and what it leaves out.
#include "daemon/notices/letters.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

namespace {

// A fridge with a thermometer that falls silent at 23:00 in a calm night, and another one, beside it or elsewhere.
struct CalmNight : Heard {
  explicit CalmNight(const json::object& other = InCave(1), json::object limits = {}) {
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    house->Do("probe", AirProbe("Door", "fridge/door", other));
    limits["cave"] = 1;
    limits["temperature"] = json::object{{"low", 10}, {"high", 14}};
    house->Do("limits", limits);
    Hears("IH", 1, {{"quiet", {{"from", "22:00"}, {"to", "06:00"}}}, {"list", "never"}});
  }
  void To(rules::Millis after) {
    while (house->Now() < kThursday + after) {
      house->StepTo(house->Now() + 3min);
      house->Keep({house->Reading(1, 600)});
      ++said;
      const double air = 12 + 0.1 * (said % 5), damp = 85 + said % 3;
      if (house->Now() < kThursday + 14h) house->Reads(air, damp, 2);
      if (door_tells_damp)
        house->Reads(air, damp, 4);
      else
        house->Keep({house->Reading(4, air)});
      house->Settle();
    }
  }
  // Nothing speaks until then, nor the gas.
  void Dark(rules::Millis after) { GoTo(after); }
  int said = 0;
  bool door_tells_damp = true;
};

}  // namespace

TEST_CASE("of a silence that a power cut told in the night nobody says that it waited for the morning") {
  // Of the humidity the other one says nothing.
  CalmNight night(InCave(1), {{"humidity", {{"low", 80}, {"high", 90}}}});
  night.door_tells_damp = false;
  night.To(14h);
  night.Dark(22h + 10min);
  REQUIRE(night.house->TheWatch().Engine().Alarms().front().kind == rules::AlarmKind::kPowerGone);
  night.To(22h + 40min);
  std::string told;
  const json::object page = night.house->See("/api/caves");
  for (const json::value& alarm : page.at("head").at("alarms").as_array())
    if (alarm.at("kind") == "probe silent") told = json::serialize(alarm);
  REQUIRE_FALSE(told.empty());
  CHECK_THAT(told, Says("\"severity\":\"act\"") && !Says("waited for the morning"));
}

TEST_CASE("a silence that waits for the morning is one letter, which says why it comes only now") {
  CalmNight night(NewCaveIn("box", 1));
  night.To(21h + 27min);
  REQUIRE(night.house->TheWatch().Engine().Alarms().front().severity == rules::Severity::kWatch);
  CHECK(night.post.sent.empty());
  night.To(21h + 36min);
  REQUIRE(night.post.sent.size() == 1);
  CHECK_THAT(night.post.Subjects().front(), Says("Time to act: Fridge probe silent"));
  CHECK_THAT(json::serialize(night.house->See("/api/alarms/" + night.TheAlarm()).at("alarm")),
             Says("It waited for the morning"));
}

TEST_CASE("a silence beside which another probe tells the same air is a quiet word in the morning, and no act") {
  CalmNight night;
  night.To(20h + 55min);
  CHECK(night.post.sent.empty());
  night.To(23h);
  REQUIRE(night.post.sent.size() == 1);
  CHECK_THAT(night.post.Subjects().front(), Says("Fridge probe silent") && !Says("Time to act"));
  const json::object told = night.house->See("/api/alarms/" + night.TheAlarm()).at("alarm").as_object();
  const std::string text = json::serialize(told);
  CHECK_THAT(text, Says("Door, in the same place, speaks: 12.") && !Says("It waited for the morning"));
  CHECK_THAT(text, Says("go by the other probe there") && !Says("stays unknown"));
  SECTION("once the other one is silent too nothing is known, and it is time to act") {
    night.house->StepTo(night.house->Now() + 5h);
    const std::string later = json::serialize(night.house->See("/api/alarms/" + night.TheAlarm()).at("alarm"));
    CHECK_THAT(later, Says("\"severity\":\"act\"") && !Says("in the same place, speaks"));
  }
}

TEST_CASE("what it was is not said where that is its name already") {
  Heard heard;
  heard.Gas(16000, 3min);
  rules::Alarm alarm;
  alarm.id = heard.TheAlarm();
  heard.house->Do("take", {{"alarm", alarm.id}});
  heard.house->Do("called", {{"alarm", alarm.id}, {"what", "plant"}});
  alarm.cave = 1;
  alarm.since = alarm.raised = kThursday - 2h;
  alarm.over = alarm.taken = kThursday;
  const std::string page = "http://cave.example:8417";
  const Letters letters(heard.house->Context(), page);
  const auto text = [&](rules::AlarmKind kind) {
    alarm.kind = kind;
    const rules::Notice notice{"IH", alarm.id, rules::NoticeKind::kOver, alarm.raised, 0};
    return PlainText(letters.OfAlarm(notice, alarm, Letters::Before::kNothing));
  };
  CHECK_THAT(text(rules::AlarmKind::kTooWarm), Says("It was: plant."));
  CHECK_THAT(text(rules::AlarmKind::kPlantWeak), !Says("It was:"));
}

TEST_CASE("a bell is told of only where a broker can be that rings it") {
  TempFolder folder;
  Household house(folder / "rind.db", kThursday);
  house.Begin();
  const auto has_bell = [&] { return house.See("/api/notices").at("ways").as_object().contains("bell"); };
  CHECK_FALSE(has_bell());
  house.TheConfig().broker_given = true;
  CHECK(has_bell());
}

TEST_CASE("what is over and only not seen is no further alarm of the sentence") {
  Heard heard;
  for (const char* topic : {"room/a", "room/b"})
    heard.house->Do("probe", {{"name", topic},
                              {"topic", topic},
                              {"format", "json"},
                              {"channels", json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}}},
                              {"where", NewCave("room")}});
  const auto gas = [&](double first, rules::Millis span) {
    for (const rules::Instant end = heard.house->Now() + span; heard.house->Now() < end;) {
      heard.house->StepTo(heard.house->Now() + 1min);
      heard.house->Keep({heard.house->Reading(1, first), heard.house->Reading(2, 9000), heard.house->Reading(3, 9000)});
      heard.house->Settle();
    }
  };
  const auto sentence = [&] {
    return std::string(heard.house->See("/api/caves").at("head").at("sentence").as_string());
  };
  gas(9000, 20min);
  CHECK_THAT(sentence(), Says("And 1 more alarm."));
  gas(500, 90min);
  CHECK_THAT(sentence(), !Says("more alarm"));
}

}  // namespace rindwatch
