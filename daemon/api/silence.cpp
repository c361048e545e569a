#include "daemon/api/silence.hpp"

#include <algorithm>
#include <set>

#include "daemon/api/leaps.hpp"
#include "daemon/clock/clocks.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/channels.hpp"

namespace rindwatch {

using rules::Alarm;
using rules::AlarmKind;
using rules::Instant;

namespace {

// As far apart as a ribbon's end and the instant that it stands for can be: its columns are of five minutes, and what
// of a probe's message was heard last may be a minute or two later than its air.
constexpr rules::Millis kNear = std::chrono::minutes{10};

bool IsOfSilence(AlarmKind kind) {
  return kind == AlarmKind::kProbeSilent || kind == AlarmKind::kPowerGone || kind == AlarmKind::kUnwatched;
}

// The cave and what it stands in: whose probes say what its air is.
std::set<rules::CaveId> Outwards(const Book& book, const CaveRow& cave) {
  std::set<rules::CaveId> caves;
  // A cave is inside one that came before it, so this ends.
  for (const CaveRow* around = &cave; around; around = around->inside ? book.Cave(*around->inside) : nullptr)
    caves.insert(around->id);
  return caves;
}

std::vector<Alarm> SilencesOf(const Book& book, const CaveRow& cave) {
  const std::set<rules::CaveId> caves = Outwards(book, cave);
  std::vector<Alarm> silences;
  for (const auto& [id, record] : book.AlarmRecords()) {
    const auto kind = KindIn(record);
    auto alarm = kind && IsOfSilence(*kind) ? MaybeAlarmFrom(record) : std::nullopt;
    if (alarm && caves.contains(alarm->cave)) silences.push_back(std::move(*alarm));
  }
  return silences;
}

bool Measures(const Book& book, const Alarm& alarm, rules::ChannelKind kind) {
  const ProbeRow* probe = alarm.probe ? book.Probe(*alarm.probe) : nullptr;
  return probe != nullptr &&
         std::ranges::any_of(probe->channels, [kind](const ProbeChannel& one) { return one.kind == kind; });
}

// `raised`, `over`: of its alarm.
DatedSilence Dated(const Watch& watch, Instant last_word, Instant raised, Instant over, rules::Millis awaited,
                   const std::vector<Alarm>& silences) {
  const Book& book = watch.TheBook();
  // What ends at an instant that has not come was said by a clock that was ahead, and tells of no absence.
  const Instant shown = watch.TheClock().Wall() + kClockSlack;
  std::vector<Gap> gaps;
  for (const Leap& leap : LeapsIn(book)) {
    // What fell due while the clock went on was decided at its instant, as if somebody had watched; what was raised
    // before had been seen. Told it is as of the end of that time.
    if (leap.to <= last_word || leap.from > over || leap.to > shown) continue;
    gaps.push_back({leap.from, leap.to});
    if (raised >= leap.from) raised = std::max(raised, leap.to);
  }
  for (const Alarm& alarm : silences) {
    // It is raised at the start, when somebody watches again.
    const bool within = alarm.kind == AlarmKind::kUnwatched && alarm.raised > last_word && alarm.raised <= over;
    if (within && alarm.raised <= shown) gaps.push_back({alarm.since, alarm.raised});
  }
  std::ranges::sort(gaps, {}, &Gap::to);
  DatedSilence dated{last_word, {}, {}};
  Instant due = last_word + awaited;
  for (const Gap& gap : gaps) {
    if (gap.from < due && gap.to <= raised) {
      dated.begun = gap;
      due = gap.to + awaited;
    } else {
      dated.within = gap;
    }
  }
  return dated;
}

// How long the probes that hang in the cave or around it are awaited with what they say of a channel.
rules::Millis AwaitedIn(const Watch& watch, const CaveRow& cave, const rules::ChannelView& channel) {
  std::optional<rules::Millis> awaited;
  const std::set<rules::CaveId> caves = Outwards(watch.TheBook(), cave);
  for (const ProbeRow* probe : watch.TheBook().Probes()) {
    const auto hangs = watch.TheBook().HangsIn(*probe);
    if (!hangs || !caves.contains(*hangs)) continue;
    const auto of_kind = [&](const ProbeChannel& one) { return one.kind == channel.kind; };
    if (std::ranges::none_of(probe->channels, of_kind)) continue;
    if (const auto one = rules::ProbeAwaitedFor(watch.Engine(), probe->id))
      awaited = std::max(awaited.value_or(*one), *one);
  }
  return awaited.value_or(kNear);
}

bool IsNear(Instant a, Instant b) { return std::chrono::abs(a - b) <= kNear; }

}  // namespace

DatedSilence DatedOf(const Watch& watch, const Alarm& alarm) {
  const CaveRow* cave = watch.TheBook().Cave(alarm.cave);
  const bool dark = alarm.kind == AlarmKind::kPowerGone, silent = alarm.kind == AlarmKind::kProbeSilent && alarm.probe;
  if (!cave || (!dark && !silent)) return {alarm.since, {}, {}};
  const auto awaited = silent ? rules::ProbeAwaitedFor(watch.Engine(), *alarm.probe) : std::nullopt;
  return Dated(watch, alarm.since, alarm.raised, alarm.over.value_or(Instant::max()), awaited.value_or(kNear),
               SilencesOf(watch.TheBook(), *cave));
}

std::optional<DatedSilence> DatedOf(const Watch& watch, const CaveRow& cave, const rules::ChannelView& channel) {
  if (!channel.silent) return std::nullopt;
  const Book& book = watch.TheBook();
  const std::vector<Alarm> silences = SilencesOf(book, cave);
  const Alarm* last = nullptr;
  for (const Alarm& alarm : silences) {
    const bool here = alarm.cave == cave.id || channel.borrowed;
    if (alarm.kind != AlarmKind::kProbeSilent || alarm.over || !here || !Measures(book, alarm, channel.kind)) continue;
    // Of several probes the last to fall silent left it unknown.
    if (!last || last->since < alarm.since) last = &alarm;
  }
  if (last) return DatedOf(watch, *last);
  if (!channel.latest_at) return std::nullopt;
  return Dated(watch, *channel.latest_at, Instant::max(), Instant::max(), AwaitedIn(watch, cave, channel), silences);
}

Instant ToldSince(const Watch& watch, const Alarm& alarm) { return DatedOf(watch, alarm).Since(); }

std::vector<Gap> AsTold(const Book& book, const CaveRow& cave, const rules::CaveView& view, std::vector<Gap> gaps,
                        Instant to) {
  if (gaps.empty()) return gaps;
  const std::vector<Alarm> silences = SilencesOf(book, cave);
  for (Gap& gap : gaps) {
    const Gap by_columns = gap;
    for (const Alarm& alarm : silences) {
      if (IsNear(alarm.since, by_columns.from)) gap.from = alarm.since;
      if (alarm.over && by_columns.to != to && IsNear(*alarm.over, by_columns.to)) gap.to = *alarm.over;
    }
    if (by_columns.to != to || gap.from != by_columns.from) continue;
    // It lasts, and no alarm tells of it yet: since the last reading.
    const auto& last = view.temperature.latest_at ? view.temperature.latest_at : view.humidity.latest_at;
    if (last && IsNear(*last, gap.from)) gap.from = *last;
  }
  return gaps;
}

}  // namespace rindwatch
