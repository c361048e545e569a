#include "daemon/api/alarm_past.hpp"

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/spans.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

void AddSaid(rules::Alarm& alarm, const json::object& record) {
  const json::value* said = record.if_contains("said");
  if (!said || !said->is_array()) return;
  for (const json::value& item : said->as_array()) {
    if (!item.is_object()) continue;
    const json::object& one = item.as_object();
    const bool damp = fields::TextOr(one, "kind", "") == sensors::NameOf(rules::ChannelKind::kHumidity);
    alarm.said.push_back({fields::Whole(one, "probe"),
                          damp ? rules::ChannelKind::kHumidity : rules::ChannelKind::kTemperature,
                          fields::Number(one, "value")});
  }
}

void AddWhy(rules::Alarm& alarm, const json::object& record) {
  alarm.why = rules::WhyFrom(fields::TextOr(record, "why", "")).value_or(rules::Why::kBand);
  alarm.before = fields::MaybeNumber(record, "before");
  alarm.warmest = fields::MaybeNumber(record, "warmest");
  alarm.cause = rules::AlarmKindFrom(fields::TextOr(record, "cause", ""));
  AddSaid(alarm, record);
  const json::value* uncounted = record.if_contains("uncounted");
  if (!uncounted || !uncounted->is_array()) return;
  for (const std::string& text : fields::Texts(record, "uncounted")) {
    if (const auto day = DayFrom(text)) alarm.uncounted.push_back(*day);
  }
}

std::optional<rules::Alarm> Read(const Book& book, const std::string& id, const json::object& record) {
  const auto kind = rules::AlarmKindFrom(fields::TextOr(record, "kind", ""));
  const auto severity = rules::SeverityFrom(fields::TextOr(record, "severity", ""));
  if (!kind || !severity) return std::nullopt;
  rules::Alarm alarm;
  alarm.id = id;
  alarm.kind = *kind;
  alarm.since = fields::At(record, "since");
  alarm.raised = fields::At(record, "raised");
  alarm.severity = *severity;
  alarm.cave = fields::Whole(record, "cave");
  alarm.probe = fields::MaybeWhole(record, "probe");
  alarm.taken = fields::MaybeAt(record, "taken");
  alarm.over = fields::MaybeAt(record, "over");
  // It may have been taken after the last that the watch wrote of it.
  if (const Book::Taking* taking = book.TakenBy(id); taking && !alarm.taken) alarm.taken = taking->at;
  alarm.value = fields::Number(record, "value");
  alarm.extreme = fields::Number(record, "extreme");
  alarm.dose = fields::Number(record, "dose");
  alarm.band = SpanFrom(record, "band");
  alarm.wheels = fields::Wheels(record, "wheels");
  alarm.found_later = fields::TruthOr(record, "found_later", false);
  AddWhy(alarm, record);
  return alarm;
}

std::optional<rules::Alarm> MaybeRead(const Book& book, const std::string& id, const json::object& record) {
  try {
    return Read(book, id, record);
  } catch (const ActFault&) {
    return std::nullopt;  // "rindwatch check" says what is wrong with it
  }
}

}  // namespace

std::optional<rules::Alarm> PastAlarm(const Book& book, const std::string& id) {
  const auto found = book.AlarmRecords().find(id);
  return found == book.AlarmRecords().end() ? std::nullopt : MaybeRead(book, id, found->second);
}

std::vector<rules::Alarm> AlarmsSince(const Book& book, rules::Instant since) {
  std::vector<rules::Alarm> alarms;
  for (const auto& [id, record] : book.AlarmRecords()) {
    auto alarm = MaybeRead(book, id, record);
    if (alarm && alarm->raised >= since) alarms.push_back(std::move(*alarm));
  }
  std::ranges::stable_sort(alarms, std::ranges::greater{}, &rules::Alarm::raised);
  return alarms;
}

}  // namespace rindwatch
