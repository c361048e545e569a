#include "daemon/api/silence.hpp"

#include <algorithm>
#include <set>

#include "daemon/watch/alarm_record.hpp"

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
    auto alarm = MaybeAlarmFrom(record);
    if (alarm && IsOfSilence(alarm->kind) && caves.contains(alarm->cave)) silences.push_back(std::move(*alarm));
  }
  return silences;
}

bool Measures(const Book& book, const Alarm& alarm, rules::ChannelKind kind) {
  const ProbeRow* probe = alarm.probe ? book.Probe(*alarm.probe) : nullptr;
  return probe && std::ranges::any_of(probe->channels, [kind](const ProbeChannel& one) { return one.kind == kind; });
}

bool IsNear(Instant a, Instant b) { return std::chrono::abs(a - b) <= kNear; }

}  // namespace

std::optional<Instant> SilentSince(const Book& book, const CaveRow& cave, const rules::ChannelView& channel) {
  if (!channel.silent) return std::nullopt;
  std::optional<Instant> since;
  for (const Alarm& alarm : SilencesOf(book, cave)) {
    const bool here = alarm.cave == cave.id || channel.borrowed;
    if (alarm.kind != AlarmKind::kProbeSilent || alarm.over || !here || !Measures(book, alarm, channel.kind)) continue;
    // Of several probes the last to fall silent left it unknown.
    since = std::max(since.value_or(alarm.since), alarm.since);
  }
  return since ? since : channel.latest_at;
}

std::optional<Gap> UnwatchedWithin(const Book& book, const Alarm& silence) {
  const CaveRow* cave = book.Cave(silence.cave);
  if (silence.kind != AlarmKind::kProbeSilent || !cave) return std::nullopt;
  std::optional<Gap> last;
  for (const Alarm& alarm : SilencesOf(book, *cave)) {
    // It is raised at the start, when somebody watches again.
    const bool within = alarm.raised > silence.since && (!silence.over || alarm.raised <= *silence.over);
    if (alarm.kind != AlarmKind::kUnwatched || !within || (last && last->to > alarm.raised)) continue;
    last = Gap{alarm.since, alarm.raised};
  }
  return last;
}

std::optional<Gap> BegunUnwatched(const Book& book, const Alarm& silence) {
  const CaveRow* cave = book.Cave(silence.cave);
  if (silence.kind != AlarmKind::kProbeSilent || !cave) return std::nullopt;
  auto gap = UnwatchedSince(book, *cave, silence.since);
  if (gap && gap->to > silence.raised) gap.reset();
  return gap;
}

Instant ToldSince(const Book& book, const Alarm& alarm) {
  const auto gap = BegunUnwatched(book, alarm);
  return gap ? gap->to : alarm.since;
}

std::optional<Gap> UnwatchedSince(const Book& book, const CaveRow& cave, Instant last) {
  for (const Alarm& alarm : SilencesOf(book, cave)) {
    // It is raised at the start, when somebody watches again.
    const bool begins = alarm.kind == AlarmKind::kUnwatched && IsNear(alarm.since, last) && alarm.raised > last;
    if (begins) return Gap{alarm.since, alarm.raised};
  }
  return std::nullopt;
}

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
