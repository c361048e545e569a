#include "daemon/api/alarm_past.hpp"

#include <algorithm>

#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

namespace {

std::optional<rules::Alarm> Read(const Book& book, const std::string& id, const boost::json::object& record) {
  auto alarm = MaybeAlarmFrom(record);
  if (!alarm) return std::nullopt;
  // It may have been taken after the last that the watch wrote of it.
  if (const Book::Taking* taking = book.TakenBy(id); taking && !alarm->taken) alarm->taken = taking->at;
  return alarm;
}

}  // namespace

std::optional<rules::Alarm> PastAlarm(const Book& book, const std::string& id) {
  const auto found = book.AlarmRecords().find(id);
  return found == book.AlarmRecords().end() ? std::nullopt : Read(book, id, found->second);
}

bool EndedUnseen(const Book& book, const std::string& id) {
  const auto found = book.AlarmRecords().find(id);
  return found != book.AlarmRecords().end() && IsUnseen(found->second);
}

double FurthestOf(const Book& book, const rules::Alarm& alarm) {
  double furthest = alarm.extreme;
  if (alarm.why != rules::Why::kPlanStep) return furthest;
  const bool high = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooDamp;
  for (const auto& [id, record] : book.AlarmRecords()) {
    const auto beside = id == alarm.id || KindIn(record) != alarm.kind ? std::nullopt : MaybeAlarmFrom(record);
    if (!beside || beside->cave != alarm.cave) continue;
    const bool within = beside->since >= alarm.since && (!alarm.over || beside->since < alarm.LastedUntil());
    if (within) furthest = high ? std::max(furthest, beside->extreme) : std::min(furthest, beside->extreme);
  }
  return furthest;
}

std::vector<rules::Alarm> AlarmsSince(const Book& book, rules::Instant since) {
  std::vector<rules::Alarm> alarms;
  for (const auto& [id, record] : book.AlarmRecords()) {
    auto alarm = Read(book, id, record);
    if (alarm && alarm->raised >= since) alarms.push_back(std::move(*alarm));
  }
  std::ranges::stable_sort(alarms, std::ranges::greater{}, &rules::Alarm::raised);
  return alarms;
}

}  // namespace rindwatch
