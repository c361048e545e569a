#include "daemon/api/first_things.hpp"

#include <algorithm>
#include <optional>
#include <string_view>

#include "daemon/api/barred.hpp"
#include "daemon/api/beside.hpp"
#include "daemon/api/concerned.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/api/wheel_air.hpp"
#include "daemon/api/within.hpp"
#include "daemon/words/alarm_word.hpp"
#include "rules/alarms/ahead.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

namespace {

// Somebody has shut the door: the probe says so, though the mean that is judged holds what was.
bool TurnsThisMinute(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.over || !rules::IsOfWarmth(alarm.kind) || alarm.why == rules::Why::kPlanStep) return false;
  // A defrost of a plant that runs on warms its probe for minutes, and the wheels freeze on.
  if (alarm.kind == rules::AlarmKind::kTooCold && alarm.severity >= rules::Severity::kAct) return false;
  const auto mean = ValueNow(context, alarm);
  const auto latest = LatestFarFrom(context, alarm.cave, mean);
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm;
  if (!latest || (warm ? *latest >= *mean : *latest <= *mean)) return false;
  // So does the end of a defrost on top of a door that stands open.
  const bool inside = alarm.band && (warm ? *latest <= alarm.band->high : *latest >= alarm.band->low);
  return inside || rules::ComesBack(context.watch.Engine(), alarm, context.now());
}

// Of air that nobody knows the first thing is to know it; but what is kept shut for want of power is not opened for
// that.
std::optional<rules::Knowing> CourseOrNone(const ApiContext& context, const rules::Alarm& alarm) {
  if (!IsAirUnknown(context, alarm)) {
    const auto course = CourseNow(context, alarm);
    return !course && TurnsThisMinute(context, alarm) ? std::optional(rules::Knowing::kTurning) : course;
  }
  // Wheels are seen to before a probe is, where another one says that it goes on.
  if (!IsKeptShut(context, alarm.cave))
    return GoesOnBeside(context, alarm) ? rules::Knowing::kPress : rules::Knowing::kProbe;
  // What was loudly too warm before it went dark holds no cold to be kept in.
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm && alarm.severity >= rules::Severity::kAct;
  return warm && !alarm.inside_since ? rules::Knowing::kPress : rules::Knowing::kPower;
}

// What stays wants it otherwise than a step asks: to turn the place would take it out of its own band.
bool OthersWantItOtherwise(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why != rules::Why::kPlanStep || !alarm.band || !rules::IsOfWarmth(alarm.kind)) return false;
  const Book& book = context.book();
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm;
  return std::ranges::any_of(book.Wheels(), [&](const WheelRow* wheel) {
    const auto cave = book.PlaceOf(*wheel).cave;
    const bool stays = cave && (*cave == alarm.cave || IsWithin(book, *cave, alarm.cave)) &&
                       std::ranges::count(alarm.wheels, wheel->id) == 0;
    const auto own = stays ? BandAt(book, *wheel, context.now()) : std::nullopt;
    return own && (warm ? own->low > alarm.band->high : own->high < alarm.band->low);
  });
}

}  // namespace

std::vector<std::string> FirstThings(const ApiContext& context, const rules::Alarm& alarm) {
  // Nothing is left to find out.
  if (alarm.kind == rules::AlarmKind::kUnwatched && alarm.why == rules::Why::kOnlyTheWatch) return {};
  // Of two gases at one door the worse one is obeyed.
  if (const auto worse = WorseGasBeside(context, alarm)) return FirstThings(context, *worse);
  const std::string* called = context.book().CalledAs(alarm.id);
  const CaveRow* cave = context.book().Cave(alarm.cave);
  const auto course = CourseOrNone(context, alarm);
  const rules::Knowing knowing = rules::KnownOf(
      AsForeseen(context, alarm), called ? std::string_view{*called} : std::string_view{},
      context.watch.Engine().Alarms(), course, context.now(),
      {.gas = DarkensGas(context.book(), alarm) || StandsInGas(context, alarm.cave),
       .ready = cave != nullptr && cave->watching_now.ready_cheese,
       .unheard = context.broker && context.broker->WhyAway(),
       .apart = !context.watch.View(alarm.cave).does_not_suit.empty() || OthersWantItOtherwise(context, alarm)});
  std::vector<std::string> steps = FirstSteps(context.words, alarm.kind, knowing, cave ? ToText(cave->kind) : "");
  if (!DarkensGas(context.book(), alarm) && !steps.empty() && IsHeardBeside(context, alarm))
    steps.back() = context.words.Say("first.probe silent beside");
  return steps;
}

}  // namespace rindwatch
