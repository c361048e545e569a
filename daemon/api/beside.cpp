#include "daemon/api/beside.hpp"

#include <algorithm>
#include <cmath>

#include "daemon/api/course.hpp"
#include "daemon/api/within.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/figures.hpp"
#include "rules/alarms/channels.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {
namespace {

using rules::Alarm;
using rules::AlarmKind;

bool IsDoubted(const std::vector<Alarm>& alarms, rules::ProbeId probe) {
  return std::ranges::any_of(alarms, [probe](const Alarm& alarm) {
    return alarm.probe == probe && !alarm.over && StaysUnknown(alarm.kind) && alarm.kind != AlarmKind::kProbeSilent;
  });
}

// As the probe's own, or of the place in which it hangs.
std::string NameOf(const ApiContext& context, const Alarm& alarm, const SaidBeside& said) {
  const CaveRow* cave = context.book().Cave(said.cave);
  return said.cave == alarm.cave || !cave ? said.probe->name : cave->name;
}

// What is asked of a thermometer can be asked of the others there.
bool IsOfThermometer(const Alarm& alarm) {
  return !alarm.over && (alarm.kind == AlarmKind::kProbeSilent || alarm.kind == AlarmKind::kProbeStuck);
}

}  // namespace

std::vector<SaidBeside> SpeaksBeside(const ApiContext& context, const Alarm& alarm) {
  const Book& book = context.book();
  const std::vector<Alarm> alarms = context.watch.Engine().Alarms();
  std::vector<SaidBeside> all;
  for (const ProbeRow* probe : book.Probes()) {
    const auto hangs = book.HangsIn(*probe);
    const bool there = hangs && IsWithin(book, *hangs, alarm.cave) && probe->id != alarm.probe;
    if (!there || book.OutOfService(*probe) || IsDoubted(alarms, probe->id)) continue;
    for (const ProbeChannel& channel : probe->channels) {
      if (channel.kind != rules::ChannelKind::kTemperature) continue;
      const auto said = rules::LastSaid(context.watch.Engine(), channel.id, context.now());
      if (!said || !said->speaks) continue;
      all.push_back({probe, *hangs, said->value});
      break;
    }
  }
  std::ranges::stable_partition(all, [&](const SaidBeside& said) { return said.cave == alarm.cave; });
  return all;
}

std::string HeardBeside(const ApiContext& context, const Alarm& alarm) {
  const bool unknown = rules::IsOfWarmth(alarm.kind) && IsAirUnknown(context, alarm);
  if (!IsOfThermometer(alarm) && !unknown) return {};
  std::string text;
  for (const SaidBeside& said : SpeaksBeside(context, alarm)) {
    const char* key = said.cave == alarm.cave ? "warning.beside" : "warning.beside in";
    text += (text.empty() ? "" : " ") +
            context.words.Say(key, {{"probe", NameOf(context, alarm, said)}, {"value", TemperatureFigure(said.value)}});
  }
  return text;
}

bool GoesOnBeside(const ApiContext& context, const Alarm& alarm) {
  if (!rules::IsOfWarmth(alarm.kind) || !alarm.band) return false;
  const bool warm = alarm.kind == AlarmKind::kTooWarm;
  return std::ranges::any_of(SpeaksBeside(context, alarm), [&](const SaidBeside& said) {
    return warm ? said.value > alarm.band->high : said.value < alarm.band->low;
  });
}

std::string GoByIt(const ApiContext& context, const Alarm& alarm) {
  if (!IsOfThermometer(alarm)) return {};
  // Where another one of the place says how warm it is they go by that.
  const auto others = SpeaksBeside(context, alarm);
  if (std::ranges::any_of(others, [&](const SaidBeside& said) { return said.cave == alarm.cave; })) return {};
  std::string names;
  std::size_t count = 0;
  for (const CaveRow* cave : context.book().Caves()) {
    if (cave->id == alarm.cave || !IsWithin(context.book(), cave->id, alarm.cave)) continue;
    if (!context.watch.View(cave->id).temperature.borrowed) continue;
    names += (names.empty() ? "" : ", ") + cave->name;
    ++count;
  }
  return count == 0 ? std::string{} : context.words.Count("warning.go by it", count, {{"caves", names}});
}

std::string OtherwiseBeside(const ApiContext& context, const Alarm& alarm, double after) {
  constexpr double kClearly = 1;  // K
  const std::vector<SaidBeside> all = SpeaksBeside(context, alarm);
  const auto own = std::ranges::count(all, alarm.cave, &SaidBeside::cave);
  std::string said;
  for (const SaidBeside& one : all) {
    // The only one of the place is the one that has been told already; what is cooler in a shut box lags.
    if ((own == 1 && one.cave == alarm.cave) || one.value - after < kClearly) continue;
    said += (said.empty() ? "" : ", ") + context.words.Say("edges.says", {{"name", NameOf(context, alarm, one)},
                                                                          {"value", TemperatureFigure(one.value)}});
  }
  return said.empty() ? said : context.words.Say("edges.otherwise", {{"said", said}});
}

}  // namespace rindwatch
