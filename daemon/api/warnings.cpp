#include "daemon/api/warnings.hpp"

#include <fmt/format.h>

#include <utility>

#include "daemon/api/beside.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/gas_grade.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/unknown.hpp"
#include "daemon/api/within.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/ahead.hpp"
#include "rules/alarms/channels.hpp"

namespace rindwatch {

namespace {

using rules::Alarm;
using rules::AlarmKind;
using rules::ChannelKind;

std::string Ppm(const ApiContext& context, double value) {
  return context.words.Say("figure.ppm", {{"value", fmt::format("{:.0f}", value)}});
}

// Of whichever gas was heard last.
std::optional<rules::ChannelSaid> LastOfAnyGas(const ApiContext& context, rules::CaveId cave) {
  std::optional<rules::ChannelSaid> last;
  for (const ChannelKind kind : {ChannelKind::kCarbonDioxide, ChannelKind::kAmmonia}) {
    const auto said = SaidOfGas(context.watch, cave, kind);
    if (said && (!last || said->measured_at > last->measured_at)) last = said;
  }
  return last;
}

ChannelKind ChannelOf(AlarmKind kind) {
  return kind == AlarmKind::kAmmonia ? ChannelKind::kAmmonia : ChannelKind::kCarbonDioxide;
}

rules::GasLimits LimitsOf(const ApiContext& context, const Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  return rules::GasLimitsOf(ChannelOf(alarm.kind),
                            rules::SettingsWith(cave ? cave->watching_now.own : rules::OwnSettings{}));
}

std::string HowBad(const ApiContext& context, const Alarm& alarm, double value) {
  const rules::GasLimits limits = LimitsOf(context, alarm);
  const auto say = [&](const char* grade, double limit) {
    const std::string key = std::string("warning.gas.") + grade;
    return context.words.Say(key, {{grade, fmt::format("{:.0f}", limit)}});
  };
  switch (limits.Of(value)) {
    case rules::Severity::kUrgent:
      return say("urgent", *limits.urgent);
    case rules::Severity::kAct:
      return say("act", limits.act);
    case rules::Severity::kWatch:
      return say("watch", limits.watch);
    case rules::Severity::kHint:
      break;
  }
  return context.words.Say("warning.gas.low");
}

// "Beside it carbon dioxide, 16200 ppm, is worse: what that asks comes first."
std::string OfWorse(const ApiContext& context, const Alarm& alarm) {
  const auto said = SaidOfGas(context.watch, alarm.cave, ChannelOf(alarm.kind));
  const char* gas = alarm.kind == AlarmKind::kAmmonia ? "gas.ammonia" : "gas.carbon dioxide";
  return context.words.Say("warning.gas worse", {{"gas", context.words.Say(gas)},
                                                 {"value", said ? Ppm(context, said->value) : std::string{}}});
}

// The same place, or one in the other.
bool AreNear(const Book& book, rules::CaveId one, rules::CaveId other) {
  return IsWithin(book, one, other) || IsWithin(book, other, one);
}

// Their lines who said to be there and are not yet out, by the newest of the journal, the last who said so last: as the
// rules know them, but with the moment and without what was undone. One line a name; without one whoever it was.
// `gas_since`: since gas stands there. Whoever was there then, or came later, and did not say to be out may lie in it,
// however long ago that was said.
std::vector<const JournalLine*> StandHere(const ApiContext& context, rules::CaveId cave,
                                          std::optional<rules::Instant> gas_since = std::nullopt) {
  const Book& book = context.book();
  std::vector<const JournalLine*> here;
  if (!gas_since && !rules::HereUntil(context.watch.Engine(), cave, context.now())) return here;
  const CaveRow* row = book.Cave(cave);
  const auto stays = std::chrono::duration_cast<rules::Millis>(std::chrono::duration<double, std::ratio<60>>(
      rules::SettingsWith(row ? row->watching_now.own : rules::OwnSettings{}).here_for));
  const auto forget = [&here](const std::string& keeper) {
    return std::erase_if(here, [&](const JournalLine* one) { return one->keeper == keeper; }) > 0;
  };
  for (const JournalLine& line : book.Newest()) {
    const bool presence = line.kind == "here" || line.kind == "out";
    if (!presence || !line.cave || book.IsUndone(line.id) || !AreNear(book, cave, *line.cave)) continue;
    if (line.kind == "out" && line.keeper.empty()) here.clear();
    const bool was_named = forget(line.keeper);
    if (line.kind == "out" && !was_named) forget("");
    if (line.kind == "here") here.push_back(&line);
  }
  // That somebody is there the rules say: of what was tapped long ago and told late the last one stands.
  const JournalLine* const last = here.empty() || gas_since ? nullptr : here.back();
  const rules::Instant asked = gas_since.value_or(context.now());
  std::erase_if(here, [&](const JournalLine* one) { return one != last && asked - one->at >= stays; });
  return here;
}

std::vector<std::string> NamesOf(const std::vector<const JournalLine*>& here) {
  std::vector<std::string> names;
  for (const JournalLine* line : here) {
    if (!line->keeper.empty()) names.push_back(line->keeper);
  }
  return names;
}

// "TR and IH said at 09:12 to be there, and not yet to be out.", by the time of the last who said so.
std::string WhoIsThere(const ApiContext& context, const Alarm& alarm) {
  const auto here = StandHere(context, alarm.cave, alarm.since);
  if (here.empty()) return {};
  const std::string time = SinceWord(context, here.back()->at);
  std::string names;
  for (const JournalLine* line : here) {
    if (!line->keeper.empty())
      names = names.empty() ? line->keeper : context.words.Say("caves.and", {{"first", names}, {"last", line->keeper}});
  }
  return names.empty() ? context.words.Say("warning.here", {{"time", time}})
                       : context.words.Say("warning.here by", {{"name", names}, {"time", time}});
}

std::string WithoutBroker(const ApiContext& context, const Alarm& alarm) {
  if (!IsPerhapsOfBroker(context, alarm)) return {};
  return context.words.Say("warning.broker", {{"time", SinceWord(context, context.broker->WhyAway()->since)}});
}

// "Gas is in it: carbon dioxide, 6000 ppm.": what else rings there is ordered by it.
std::string GasBeside(const ApiContext& context, const Alarm& alarm) {
  std::string named;
  for (const Alarm& other : context.watch.Engine().Alarms()) {
    if (other.over || !rules::IsGas(other.kind) || !IsWithin(context.book(), alarm.cave, other.cave)) continue;
    const auto said = SaidOfGas(context.watch, other.cave, ChannelOf(other.kind));
    const std::string figure = !said          ? std::string{}
                               : said->speaks ? Ppm(context, said->value)
                                              : context.words.Say("gas.last", {{"value", Ppm(context, said->value)}});
    named += (named.empty() ? "" : "; ") + context.words.Say("gas." + std::string(rules::ToText(other.kind)));
    if (!figure.empty()) named += ", " + figure;
  }
  return named.empty() ? named : context.words.Say("warning.gas in it", {{"gas", named}});
}

// "Nobody knows its air now: since 13:59: probe Shelf stuck. Until then it was back in its band, since 11:48."
std::string AirUnknown(const ApiContext& context, const Alarm& alarm) {
  const CaveRow* cave = context.book().Cave(alarm.cave);
  if (!cave || !IsAirUnknown(context, alarm)) return {};
  const bool warmth = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooCold;
  const rules::CaveView view = context.watch.View(cave->id);
  const std::string why =
      UnknownWords(context.words, WhyUnknown(context, *cave, warmth ? view.temperature : view.humidity));
  std::string text = why.empty() ? context.words.Say("warning.air unknown")
                                 : context.words.Say("warning.air unknown why", {{"why", why}});
  if (alarm.inside_since)
    text += " " + context.words.Say("warning.air was back", {{"time", SinceWord(context, *alarm.inside_since)}});
  return text;
}

bool AsksWhoIsIn(const ApiContext& context, const Alarm& alarm) {
  return !alarm.over && (rules::IsGas(alarm.kind) || DarkensGas(context.book(), alarm));
}

}  // namespace

bool IsPerhapsOfBroker(const ApiContext& context, const Alarm& alarm) {
  const bool silent = alarm.kind == AlarmKind::kPowerGone || alarm.kind == AlarmKind::kProbeSilent;
  return silent && !alarm.over && context.broker && context.broker->WhyAway();
}

bool IsHeardBeside(const ApiContext& context, const Alarm& alarm) {
  if (alarm.kind != AlarmKind::kProbeSilent || alarm.over) return false;
  if (context.watch.View(alarm.cave).temperature.state == rules::CaveState::kUnknown) return false;
  const auto others = SpeaksBeside(context, alarm);
  return std::ranges::any_of(others, [&](const SaidBeside& said) { return said.cave == alarm.cave; });
}

bool IsGasKnown(const ApiContext& context, const Alarm& alarm) { return GasNow(context, alarm).has_value(); }

std::optional<rules::Severity> GasNow(const ApiContext& context, const Alarm& alarm) {
  const auto said = SaidOfGas(context.watch, alarm.cave, ChannelOf(alarm.kind));
  return said && said->speaks ? std::optional(LimitsOf(context, alarm).Of(said->value)) : std::nullopt;
}

std::optional<Alarm> WorseGasBeside(const ApiContext& context, const Alarm& alarm) {
  if (!rules::IsGas(alarm.kind) || alarm.over) return std::nullopt;
  const auto own = GasNow(context, alarm);  // none: nobody knows, and what bars entry is obeyed
  std::optional<Alarm> worst;
  std::optional<rules::Severity> grade_of_worst;
  for (const Alarm& other : context.watch.Engine().Alarms()) {
    const bool beside = rules::IsGas(other.kind) && !other.over && other.id != alarm.id &&
                        IsWithin(context.book(), alarm.cave, other.cave);
    const auto grade = beside ? GasNow(context, other) : std::nullopt;
    if (!grade || !(own ? *grade > *own : BarsEntry(*grade)) || grade <= grade_of_worst) continue;
    worst = other;
    grade_of_worst = grade;
  }
  return worst;
}

std::vector<std::string> GasWords(const ApiContext& context, rules::CaveId cave) {
  std::vector<std::string> all;
  for (const auto& [kind, name] : {std::pair{ChannelKind::kCarbonDioxide, "gas.carbon dioxide"},
                                   std::pair{ChannelKind::kAmmonia, "gas.ammonia"}}) {
    if (!MeasuresGas(context.book(), cave, kind)) continue;
    const auto said = SaidOfGas(context.watch, cave, kind);
    const std::string gas = context.words.Say(name);
    all.push_back(said && said->speaks
                      ? context.words.Say("caves.gas", {{"value", fmt::format("{:.0f}", said->value)}, {"gas", gas}})
                      : context.words.Say("caves.gas unknown", {{"gas", gas}}));
  }
  return all;
}

std::vector<std::string> WhoIsHere(const ApiContext& context, rules::CaveId cave) {
  return NamesOf(StandHere(context, cave));
}

std::string WhoMayBeIn(const ApiContext& context, const Alarm& alarm) {
  return AsksWhoIsIn(context, alarm) ? WhoIsThere(context, alarm) : std::string{};
}

std::string WhoWasIn(const ApiContext& context, const Alarm& alarm) {
  return alarm.over && rules::IsGas(alarm.kind) ? WhoIsThere(context, alarm) : std::string{};
}

bool IsStillUrgent(const ApiContext& context, const Alarm& alarm) {
  if (alarm.over || !rules::IsGas(alarm.kind) || alarm.severity != rules::Severity::kUrgent) return false;
  return GasNow(context, alarm).value_or(rules::Severity::kUrgent) == rules::Severity::kUrgent;
}

std::optional<double> LastOfUnknownGas(const ApiContext& context, const Alarm& alarm) {
  if (alarm.over || !rules::IsGas(alarm.kind)) return std::nullopt;
  const auto said = SaidOfGas(context.watch, alarm.cave, ChannelOf(alarm.kind));
  return said && !said->speaks ? std::optional(said->value) : std::nullopt;
}

std::optional<std::vector<std::string>> MayBeIn(const ApiContext& context, const Alarm& alarm) {
  if (!AsksWhoIsIn(context, alarm)) return std::nullopt;
  const auto here = StandHere(context, alarm.cave, alarm.since);
  return here.empty() ? std::nullopt : std::optional(NamesOf(here));
}

std::vector<std::string> WarningsOf(const ApiContext& context, const Alarm& alarm) {
  std::vector<std::string> warnings = WarningsBesideWho(context, alarm);
  // People first.
  if (std::string who = WhoMayBeIn(context, alarm); !who.empty()) warnings.insert(warnings.begin(), std::move(who));
  return warnings;
}

namespace {

// A silence that a power cut of its place told meanwhile was kept for nothing.
bool WaitedForMorning(const ApiContext& context, const Alarm& alarm) {
  if (!alarm.waited || alarm.severity < rules::Severity::kAct) return false;
  const auto& records = context.book().AlarmRecords();
  return std::ranges::none_of(records, [&](const auto& entry) {
    if (KindIn(entry.second) != rules::AlarmKind::kPowerGone) return false;
    const auto cut = MaybeAlarmFrom(entry.second);
    return cut && IsWithin(context.book(), alarm.cave, cut->cave) && cut->raised <= alarm.asked &&
           (!cut->over || *cut->over >= alarm.since);
  });
}

}  // namespace

std::vector<std::string> WarningsBesideWho(const ApiContext& context, const Alarm& alarm) {
  std::vector<std::string> warnings;
  if (alarm.over) return warnings;
  const auto add = [&](std::string text) {
    if (!text.empty()) warnings.push_back(std::move(text));
  };
  const bool gas = rules::IsGas(alarm.kind), dark = DarkensGas(context.book(), alarm);
  if (gas) {
    const auto said = SaidOfGas(context.watch, alarm.cave, ChannelOf(alarm.kind));
    if (const auto worse = WorseGasBeside(context, alarm))
      add(OfWorse(context, *worse));
    else if (said && said->speaks)
      add(HowBad(context, alarm, alarm.value));
    else if (said)
      add(context.words.Say("warning.gas unknown",
                            {{"time", SinceWord(context, said->measured_at)}, {"value", Ppm(context, said->value)}}));
  }
  if (dark) {
    if (const auto said = LastOfAnyGas(context, alarm.cave))
      add(context.words.Say("warning.gas dark",
                            {{"time", SinceWord(context, said->measured_at)}, {"value", Ppm(context, said->value)}}));
  }
  if (!gas && !dark) add(GasBeside(context, alarm));
  add(AirUnknown(context, alarm));
  add(WithoutBroker(context, alarm));
  if (!dark) add(HeardBeside(context, alarm));
  if (!dark) add(GoByIt(context, alarm));
  if (WaitedForMorning(context, alarm)) add(context.words.Say("warning.waited"));
  return warnings;
}

}  // namespace rindwatch
