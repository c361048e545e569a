#include "daemon/api/unknown.hpp"

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
    if (book.HangsIn(*probe) != cave.id || book.OutOfService(*probe)) continue;
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

// A watch that has just begun: its probes have had no time to speak yet, and of none is known that it is silent.
std::optional<Alarm> JustUnwatched(const ApiContext& context, const CaveRow& cave) {
  constexpr rules::Millis kJust = std::chrono::minutes{10};
  std::optional<Alarm> gap;
  for (Alarm& alarm : context.watch.Engine().Alarms()) {
    if (alarm.over || (alarm.cave != cave.id && alarm.cave != cave.inside)) continue;
    if (alarm.kind == AlarmKind::kProbeSilent) return std::nullopt;
    const bool just = alarm.kind == AlarmKind::kUnwatched && alarm.back_since;
    if (just && context.now() - *alarm.back_since < kJust) gap = std::move(alarm);
  }
  return gap;
}

}  // namespace

Unknown WhyUnknown(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel) {
  const Words& words = context.words;
  // Whatever its probes say, nothing is judged.
  if (context.broker && !context.broker->IsClockKnown()) {
    const auto at = context.broker->WentBackAt();
    return {at ? SinceWord(context, *at) : std::string{}, words.Say("unknown.clock")};
  }
  if (channel.contradicted) return {{}, words.Say("state.odds")};
  if (channel.doubted) {
    const auto doubt = NewestDoubt(context, cave);
    const ProbeRow* probe = doubt ? context.book().Probe(*doubt->probe) : nullptr;
    if (!probe) return {};
    return {SinceWord(context, doubt->since),
            words.Say("unknown." + std::string(rules::ToText(doubt->kind)), {{"probes", probe->name}})};
  }
  if (const auto gap = channel.silent ? JustUnwatched(context, cave) : std::nullopt)
    return {SinceWord(context, gap->since),
            words.Say("unknown.unwatched", {{"time", SinceWord(context, *gap->back_since)}})};
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

std::string UnknownWords(const Words& words, const Unknown& unknown) {
  if (unknown.since.empty()) return unknown.why;
  const std::string since = words.Say("since", {{"time", unknown.since}});
  return unknown.why.empty() ? since : since + ": " + unknown.why;
}

}  // namespace rindwatch
