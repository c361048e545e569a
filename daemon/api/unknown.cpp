#include "daemon/api/unknown.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <vector>

#include "daemon/api/sentence.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/broker/broker_side.hpp"

namespace rindwatch {

using rules::Alarm;
using rules::AlarmKind;

namespace {

std::string Listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

// Those that should say how this channel is.
std::vector<std::string> ProbesOf(const Book& book, const CaveRow& cave, rules::ChannelKind kind) {
  std::vector<std::string> names;
  for (const ProbeRow* probe : book.Probes()) {
    if (book.HangsIn(*probe) != cave.id || book.OutOfService(*probe) != nullptr) continue;
    if (std::ranges::any_of(probe->channels, [kind](const ProbeChannel& one) { return one.kind == kind; }))
      names.push_back(probe->name);
  }
  return names;
}

// Stuck or wet, by the alarm that says so; the last one left the place unknown.
std::optional<Alarm> NewestDoubt(const ApiContext& context, const CaveRow& cave) {
  std::optional<Alarm> newest;
  for (Alarm& alarm : context.watch.Engine().Alarms()) {
    const bool doubts = alarm.kind == AlarmKind::kProbeStuck || alarm.kind == AlarmKind::kProbeWet;
    if (!doubts || alarm.over || alarm.cave != cave.id || !alarm.probe) continue;
    if (!newest || newest->since < alarm.since) newest = std::move(alarm);
  }
  return newest;
}

constexpr rules::Millis kJust = std::chrono::minutes{10};

bool IsToldSilent(const ApiContext& context, const CaveRow& cave) {
  const auto alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const Alarm& alarm) {
    const bool here = alarm.cave == cave.id || alarm.cave == cave.inside;
    return alarm.kind == AlarmKind::kProbeSilent && !alarm.over && here;
  });
}

}  // namespace

std::optional<Gap> JustUnwatched(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel) {
  const auto dated = DatedOf(context.watch, cave, channel);
  if (!dated || !dated->begun || context.now() - dated->begun->to >= kJust) return std::nullopt;
  if (IsToldSilent(context, cave)) return std::nullopt;
  return dated->begun;
}

Unknown WhyUnknown(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel) {
  const Words& words = context.words;
  // Whatever its probes say, nothing is judged.
  if (context.broker && !context.broker->IsClockKnown()) {
    const auto at = context.broker->WentBackAt();
    return {at ? SinceWord(context, *at) : std::string{}, words.Say("unknown.clock"), {}};
  }
  if (channel.contradicted)
    return {{},
            words.Say("state.odds"),
            OddsWords(*channel.lowest, *channel.highest, channel.kind == rules::ChannelKind::kHumidity)};
  if (channel.doubted) {
    const auto doubt = NewestDoubt(context, cave);
    const ProbeRow* probe = doubt ? context.book().Probe(*doubt->probe) : nullptr;
    if (!probe) return {};
    return {SinceWord(context, doubt->since),
            words.Say("unknown." + std::string(rules::ToText(doubt->kind)), {{"probes", probe->name}}),
            {}};
  }
  if (const auto gap = JustUnwatched(context, cave, channel))
    return {SinceWord(context, gap->from), words.Say("unknown.unwatched", {{"time", SinceWord(context, gap->to)}}), {}};
  Unknown unknown;
  const auto dated = DatedOf(context.watch, cave, channel);
  if (dated) unknown.since = SinceWord(context, dated->last_word);
  std::vector<std::string> names = ProbesOf(context.book(), cave, channel.kind);
  // What it borrows the probes around it say.
  for (const CaveRow* at = &cave; channel.borrowed && names.empty() && at->inside;) {
    at = context.book().Cave(*at->inside);
    if (!at) break;
    names = ProbesOf(context.book(), *at, channel.kind);
  }
  if (names.empty()) return unknown;
  unknown.why = words.Count("unknown.silent", names.size(), {{"probes", Listed(names)}});
  // How it was before the end of that nobody saw.
  if (dated && dated->begun)
    unknown.why =
        words.Say("unknown.unwatched silent", {{"time", SinceWord(context, dated->begun->to)}, {"why", unknown.why}});
  return unknown;
}

std::string OddsWords(double low, double high, bool humid) {
  return humid ? fmt::format("{:.0f} to {:.0f} %", low, high) : fmt::format("{:.1f} to {:.1f} °C", low, high);
}

std::string UnknownWords(const Words& words, const Unknown& unknown) {
  if (!unknown.odds.empty()) return unknown.why + ": " + unknown.odds;
  if (unknown.since.empty()) return unknown.why;
  const std::string since = words.Say("since", {{"time", unknown.since}});
  return unknown.why.empty() ? since : since + ": " + unknown.why;
}

}  // namespace rindwatch
