// What comes at night of a place without power. Invented.
#include "daemon/morning/phrases.hpp"

#include <regex>

#include "tests/catch.hpp"
#include "tests/daemon/notices/heard.hpp"

namespace rindwatch {

using namespace testing;

namespace {

// A fridge with two thermometers, six small wheels and no gas to measure, without power from 23:00 on.
struct DarkNight : Heard {
  DarkNight() {
    house->Do("service", {{"probe", 1}, {"out", true}});
    house->Do("probe", AirProbe("Air", "fridge/air", InCave(1)));
    house->Do("probe", AirProbe("Door", "fridge/door", InCave(1)));
    json::object bloomies = PressedWheels(6, InCave(1), 8);
    bloomies["plan"] = "bloomy";
    bloomies["grams"] = 250;
    house->Do("enter", bloomies);
    Hears("IH", 1, {{"quiet", {{"from", "22:00"}, {"to", "06:00"}}}, {"list", "never"}});
    for (int said = 0; house->Now() < kThursday + 14h;) {
      house->StepTo(house->Now() + 3min);
      ++said;
      house->Reads(12 + 0.1 * (said % 5), 85 + said % 3, 2);
      house->Reads(12 + 0.1 * (said % 4), 85 + said % 3, 4);
    }
  }
};

}  // namespace

TEST_CASE("a power cut at night is told again each hour, with what is new and not with what was said") {
  DarkNight night;
  night.GoTo(19h + 30min);
  const Texts subjects = night.post.Subjects();
  REQUIRE(subjects.size() == 6);  // act, again at 00:00, urgent at 01:00, then at 02:00, 03:00, 04:00
  CHECK_THAT(subjects[0], Says("Time to act"));
  CHECK_THAT(subjects[1], Says("Still not taken"));
  CHECK_THAT(subjects[2], Says("Urgent: "));
  CHECK_THAT(subjects[3], Says("Urgent, still not taken"));
  const std::string urgent = night.post.sent[2].message, again = night.post.sent[3].message;
  CHECK_THAT(urgent, Says("Keep it shut"));
  CHECK_THAT(again, !Says("Keep it shut") && Says("First: as at 01:0") && Says("Nothing is heard of its air since"));
  CHECK_THAT(again, Says("its warmest wheel is now at 12"));
}

TEST_CASE("of a power cut that fell due while a clock went on nobody says that it was seen all the while") {
  DarkNight night;
  const rules::Instant before = night.house->Now();
  night.notices->LookAtClock();
  night.GoTo(24h);
  const rules::Instant now = night.house->Now();
  night.notices->ShowClock(before, night.house->TheClock().Monotonic() - 5s);
  night.notices->ShowClock(now, night.house->TheClock().Monotonic());
  night.house->Settle();
  const auto alarms = night.house->TheWatch().Engine().Alarms();
  const auto cut = std::ranges::find(alarms, rules::AlarmKind::kPowerGone, &rules::Alarm::kind);
  REQUIRE(cut != alarms.end());
  const json::object told = night.house->See("/api/alarms/" + cut->id).at("alarm").as_object();
  REQUIRE(told.contains("told_since"));
  CHECK(told.at("told_since").to_number<std::int64_t>() == ToMillis(now));
  CHECK(told.contains("unwatched_first"));
}

TEST_CASE("the end of a power cut goes by whoever says otherwise beside the probe that told it") {
  DarkNight night;
  night.house->Do("probe", AirProbe("Box air", "box/air", NewCaveIn("box", 1)));
  night.house->Reads(12.2, 85, 2);
  night.house->Reads(12.3, 85, 4);
  rules::Alarm cut;
  cut.id = "power-gone-1-1";
  cut.kind = rules::AlarmKind::kPowerGone;
  cut.cave = 1;
  cut.since = night.house->Now() - 3h;
  cut.over = night.house->Now();
  cut.before = cut.value = cut.extreme = 12.2;
  cut.warmest = 12.4;
  const auto text = [&](double box) {
    night.house->Reads(box, 90, 6);
    const rules::Notice over{"IH", cut.id, rules::NoticeKind::kOver, cut.since, 0};
    const std::string plain = PlainText(
        Letters(night.house->Context(), "http://cave.example:8417").OfAlarm(over, cut, Letters::Before::kNothing));
    return std::regex_replace(plain, std::regex(R"(\s+)"), " ");
  };
  CHECK_THAT(text(12.9), Says("The air is as it was before."));
  CHECK_THAT(text(14.9), Says("Box 1 says 14.9 °C: go by that.") && !Says("as it was before"));
}

TEST_CASE("of a probe that is silent it is told what stands in its place says, and what goes by it") {
  DarkNight night;
  night.house->Do("probe", AirProbe("Box air", "box/air", NewCaveIn("box", 1)));
  night.house->Do("enter", PressedWheels(1, NewCaveIn("box", 1), 8));
  night.house->Do("service", {{"probe", 3}, {"out", true}});  // one thermometer is left in the fridge
  for (int said = 0; said < 40; ++said) {
    night.house->StepTo(night.house->Now() + 3min);
    night.house->Reads(12.4 + 0.1 * (said % 3), 90, 6);
  }
  const auto alarms = night.house->TheWatch().Engine().Alarms();
  const auto silent = std::ranges::find(alarms, rules::AlarmKind::kProbeSilent, &rules::Alarm::kind);
  REQUIRE(silent != alarms.end());
  const std::string told = json::serialize(night.house->See("/api/alarms/" + silent->id).at("alarm").at("warnings"));
  CHECK_THAT(told, Says("Box 1, which stands in it, says 12.4 °C.") && Says("Box 2 goes by it too."));
}

TEST_CASE("when it matters without power stands by the wall, alike in each letter") {
  const rules::LocalTime at{std::chrono::local_days{std::chrono::year{2026} / 11 / 28} + 6h + 17min};
  const auto said = [&](rules::Millis soonest, std::optional<rules::Millis> latest, rules::Millis later) {
    return morning::DarkMatterWords(Words::English(), soonest, latest, at + later);
  };
  CHECK(said(48min, 6h, 0h) == "between 07:00 and 12:30");
  CHECK(said(35min, 5h + 47min, 13min) == "between 07:00 and 12:30");
  CHECK(said(0h, 4h + 15min, 1h + 58min) == "by 12:30");
  CHECK(said(48min, std::nullopt, 0h) == "perhaps from 07:00 on");
  CHECK(said(48min, 27h, 0h) == "perhaps from 07:00 on");
  CHECK(said(0h, std::nullopt, 2h) == "perhaps by now");
  CHECK(said(0h, 0h, 5h) == "now");
}

}  // namespace rindwatch
