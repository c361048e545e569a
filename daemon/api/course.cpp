#include "daemon/api/course.hpp"

#include <algorithm>
#include <cmath>

#include "daemon/api/warnings.hpp"
#include "daemon/api/within.hpp"
#include "daemon/words/alarm_word.hpp"
#include "rules/alarms/ahead.hpp"

namespace rindwatch {
namespace {

// What it is judged by, as it is now; none: it is of no air, or one probe says so alone.
std::optional<rules::ChannelView> AirNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why == rules::Why::kOneProbe) return std::nullopt;
  switch (alarm.kind) {
    case rules::AlarmKind::kTooWarm:
    case rules::AlarmKind::kTooCold:
      return context.watch.View(alarm.cave).temperature;
    case rules::AlarmKind::kTooDry:
    case rules::AlarmKind::kTooDamp:
      return context.watch.View(alarm.cave).humidity;
    default:
      return std::nullopt;
  }
}

// By which its cave is judged now.
rules::Settings SettingsOf(const ApiContext& context, const rules::Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  return rules::SettingsWith(cave ? cave->watching_now.own : rules::OwnSettings{});
}

// Of several thermometers what one of them says is no news of the air.
bool HasSeveralThermometers(const Book& book, rules::CaveId cave) {
  return std::ranges::count_if(book.Probes(), [&](const ProbeRow* probe) {
           return book.HangsIn(*probe) == cave && book.OutOfService(*probe) == nullptr &&
                  std::ranges::any_of(probe->channels, [](const ProbeChannel& channel) {
                    return channel.kind == rules::ChannelKind::kTemperature;
                  });
         }) > 1;
}

// Of probes that contradict each other the one that counts says this.
double WorstSaid(const rules::Alarm& alarm) {
  if (alarm.said.empty()) return alarm.extreme;
  const auto [least, most] = std::ranges::minmax(alarm.said, {}, &rules::ProbeSaid::value);
  const bool high = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooDamp;
  return high ? most.value : least.value;
}

std::optional<double> MeanNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.why == rules::Why::kOneProbe) return WorstSaid(alarm);
  // "Still 15.8": what the probe says now.
  if (Asks(alarm.kind, alarm.why)) return context.watch.View(alarm.cave).temperature.latest.value_or(alarm.value);
  // What people breathe, and air that nobody knows, is not told from memory.
  if (rules::IsGas(alarm.kind) && !IsGasKnown(context, alarm)) return std::nullopt;
  const auto air = AirNow(context, alarm);
  return air && air->watched ? air->mean : alarm.value;
}

}  // namespace

std::optional<double> LatestFarFrom(const ApiContext& context, rules::CaveId cave, std::optional<double> mean) {
  constexpr double kFar = 1;  // K
  const std::optional<double> latest = context.watch.View(cave).temperature.latest;
  if (!mean || !latest || HasSeveralThermometers(context.book(), cave)) return std::nullopt;
  return std::abs(*latest - *mean) >= kFar ? latest : std::nullopt;
}

int TrendNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.over) return 0;
  const auto air = AirNow(context, alarm);
  return air ? air->trend : 0;
}

std::optional<rules::Knowing> CourseNow(const ApiContext& context, const rules::Alarm& alarm) {
  const std::optional<double> now = MeanNow(context, alarm);
  if (!now) return std::nullopt;
  const auto course = rules::CourseOf(alarm, *now, TrendNow(context, alarm), SettingsOf(context, alarm));
  const bool turns = course == rules::Knowing::kTurning;
  return turns && !rules::ComesBack(context.watch.Engine(), alarm, context.now()) ? std::nullopt : course;
}

bool IsBackInBand(const ApiContext& context, const rules::Alarm& alarm) {
  return CourseNow(context, alarm) == rules::Knowing::kBack || EndsAt(context, alarm);
}

bool IsAirUnknown(const ApiContext& context, const rules::Alarm& alarm) {
  return !alarm.over && rules::IsOfBand(alarm.kind) && !MeanNow(context, alarm);
}

std::optional<double> EndsAt(const ApiContext& context, const rules::Alarm& alarm) {
  const auto now = MeanNow(context, alarm);
  return now ? rules::EndsAt(alarm, *now, SettingsOf(context, alarm)) : std::nullopt;
}

std::optional<rules::Instant> InsideSince(const ApiContext& context, const rules::Alarm& alarm) {
  return !alarm.over && IsBackInBand(context, alarm) ? alarm.inside_since : std::nullopt;
}

std::optional<double> ValueNow(const ApiContext& context, const rules::Alarm& alarm) {
  if (alarm.over) return alarm.value;
  return MeanNow(context, alarm);
}

std::vector<std::string> StillOut(const ApiContext& context, const rules::Alarm& alarm) {
  std::vector<std::string> names;
  const bool warm = alarm.kind == rules::AlarmKind::kTooWarm;
  if (!warm && alarm.kind != rules::AlarmKind::kTooCold) return names;
  for (const CaveRow* box : context.book().Caves()) {
    if (box->id == alarm.cave || !IsWithin(context.book(), box->id, alarm.cave)) continue;
    const rules::ChannelView air = context.watch.View(box->id).temperature;
    if (!air.borrowed && air.state == rules::CaveState::kOutOfBand && (air.side > 0) == warm)
      names.push_back(box->name);
  }
  return names;
}

}  // namespace rindwatch
