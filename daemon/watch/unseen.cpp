#include "daemon/watch/unseen.hpp"

#include <algorithm>
#include <set>

#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

using rules::Alarm;
using rules::Decision;

bool StandsInBook(const Book& book, const std::string& alarm) {
  const auto found = book.AlarmRecords().find(alarm);
  const auto known = found == book.AlarmRecords().end() ? std::nullopt : MaybeAlarmFrom(found->second);
  return known && !known->over;
}

std::vector<Decision> EndsOfUnseen(const Book& book, const rules::EngineState& engine,
                                   const std::vector<Decision>& decided, rules::Instant now) {
  std::vector<Alarm> standing = engine.Alarms();
  std::erase_if(standing, [](const Alarm& alarm) { return alarm.over.has_value(); });
  std::set<std::string> seen;
  for (const Alarm& alarm : standing) seen.insert(alarm.id);
  for (const Decision& decision : decided) {
    if (decision.change == Decision::Change::kOver) seen.insert(decision.alarm.id);
  }
  std::vector<Decision> ends;
  for (const auto& [id, record] : book.AlarmRecords()) {
    if (seen.contains(id) || !StandsInBook(book, id)) continue;
    Decision end{Decision::Change::kOver, now, AlarmFrom(record)};
    end.alarm.over = now;
    const auto same = std::ranges::find_if(standing, [&end](const Alarm& other) {
      return other.kind == end.alarm.kind && other.cave == end.alarm.cave && other.probe == end.alarm.probe;
    });
    if (same != standing.end()) end.alarm.told_by = same->id;
    ends.push_back(std::move(end));
  }
  return ends;
}

}  // namespace rindwatch
