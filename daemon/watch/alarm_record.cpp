#include "daemon/watch/alarm_record.hpp"

#include <fmt/format.h>
#include <boost/json.hpp>

#include "daemon/book/fields.hpp"
#include "daemon/book/line.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {
json::value OrNull(const std::optional<rules::Instant>& at) {
  return at ? json::value(ToMillis(*at)) : json::value(nullptr);
}

template <typename Value>
Value Known(const std::optional<Value>& value, const json::object& record, const char* name) {
  if (value) return *value;
  throw ActFault{"A record of an alarm holds a word that nobody knows.", name, "a word of an alarm",
                 fields::AnyText(record, name), ""};
}

std::vector<rules::ProbeSaid> SaidIn(const json::object& record) {
  std::vector<rules::ProbeSaid> said;
  const json::value* list = record.if_contains("said");
  if (!list || !list->is_array()) return said;
  for (const json::value& item : list->as_array()) {
    if (!item.is_object()) continue;
    const json::object& one = item.as_object();
    const bool damp = fields::TextOr(one, "kind", "") == sensors::NameOf(rules::ChannelKind::kHumidity);
    said.push_back({fields::Whole(one, "probe"),
                    damp ? rules::ChannelKind::kHumidity : rules::ChannelKind::kTemperature,
                    fields::Number(one, "value")});
  }
  return said;
}

std::vector<rules::OwnFurthest> OwnIn(const json::object& record) {
  std::vector<rules::OwnFurthest> all;
  const json::value* list = record.if_contains("own");
  if (!list || !list->is_array()) return all;
  for (const json::value& item : list->as_array()) {
    if (!item.is_object()) continue;
    const json::object& one = item.as_object();
    all.push_back({fields::Number(one, "value"), fields::Wheels(one, "wheels")});
  }
  return all;
}

std::vector<rules::ColdDay> ColdDaysIn(const json::object& record) {
  std::vector<rules::ColdDay> days;
  const json::value* list = record.if_contains("cold_days");
  if (!list || !list->is_array()) return days;
  for (const json::value& item : list->as_array()) {
    if (!item.is_object()) continue;
    const json::object& one = item.as_object();
    const auto day = DayFrom(fields::TextOr(one, "day", ""));
    if (day) days.push_back({*day, fields::Number(one, "low"), fields::Wheels(one, "wheels")});
  }
  return days;
}

// Why it rang and what goes with that.
void AddWhy(rules::Alarm& alarm, const json::object& record) {
  alarm.why = rules::WhyFrom(fields::TextOr(record, "why", "")).value_or(rules::Why::kBand);
  alarm.before = fields::MaybeNumber(record, "before");
  alarm.warmest = fields::MaybeNumber(record, "warmest");
  alarm.cause = rules::AlarmKindFrom(fields::TextOr(record, "cause", ""));
  alarm.said = SaidIn(record);
  alarm.own = OwnIn(record);
  alarm.told_by = fields::TextOr(record, "told_by", "");
  alarm.back_since = fields::MaybeAt(record, "back_since");
  alarm.ending = EndingIn(record);
  alarm.waited = fields::TruthOr(record, "waited", false);
  alarm.cold_days = ColdDaysIn(record);
}
}  // namespace

std::optional<rules::AlarmKind> KindIn(const json::object& record) {
  return rules::AlarmKindFrom(fields::TextOr(record, "kind", ""));
}

rules::Ending EndingIn(const json::object& record) {
  if (const auto ending = rules::EndingFrom(fields::TextOr(record, "ending", ""))) return *ending;
  // Earlier rules said of what is judged no more only that it is.
  if (!fields::TruthOr(record, "struck", false)) return rules::Ending::kReturned;
  const bool step = fields::TextOr(record, "why", "") == ToText(rules::Why::kPlanStep);
  return step ? rules::Ending::kAskedOtherwise : rules::Ending::kStruck;
}

json::object RecordOf(const rules::Decision& decision) {
  const rules::Alarm& alarm = decision.alarm;
  json::object record{{"change", ToText(decision.change)},
                      {"alarm", alarm.id},
                      {"kind", ToText(alarm.kind)},
                      {"severity", ToText(alarm.severity)},
                      {"cave", alarm.cave},
                      {"since", ToMillis(alarm.since)},
                      {"raised", ToMillis(alarm.raised)},
                      {"taken", OrNull(alarm.taken)},
                      {"over", OrNull(alarm.over)},
                      {"aside_until", OrNull(alarm.aside_until)},
                      {"value", alarm.value},
                      {"extreme", alarm.extreme},
                      {"dose", alarm.dose},
                      {"beyond", alarm.beyond.count()},
                      {"judged", alarm.judged.count()},
                      {"wheels", json::value_from(alarm.wheels)},
                      {"found_later", alarm.found_later},
                      {"why", ToText(alarm.why)}};
  record["probe"] = alarm.probe ? json::value(*alarm.probe) : json::value(nullptr);
  record["band"] =
      alarm.band ? json::value{{"low", alarm.band->low}, {"high", alarm.band->high}} : json::value(nullptr);
  if (alarm.before) record["before"] = *alarm.before;
  if (alarm.warmest) record["warmest"] = *alarm.warmest;
  if (alarm.cause) record["cause"] = ToText(*alarm.cause);
  json::array said;
  for (const rules::ProbeSaid& one : alarm.said) {
    said.push_back({{"probe", one.probe}, {"kind", sensors::NameOf(one.kind)}, {"value", one.value}});
  }
  if (!said.empty()) record["said"] = std::move(said);
  if (alarm.Folded()) record["told_by"] = alarm.told_by;
  if (alarm.back_since) record["back_since"] = ToMillis(*alarm.back_since);
  if (alarm.over && alarm.ending != rules::Ending::kReturned) record["ending"] = ToText(alarm.ending);
  if (alarm.waited) record["waited"] = true;
  json::array own, cold_days;
  // While it lasts nobody asks the journal how far they have come.
  for (const rules::OwnFurthest& one : alarm.over ? alarm.own : std::vector<rules::OwnFurthest>{})
    own.push_back({{"value", one.value}, {"wheels", json::value_from(one.wheels)}});
  if (!own.empty()) record["own"] = std::move(own);
  for (const rules::ColdDay& one : alarm.over ? alarm.cold_days : std::vector<rules::ColdDay>{})
    cold_days.push_back({{"day", ToText(one.day)}, {"low", one.low}, {"wheels", json::value_from(one.wheels)}});
  if (!cold_days.empty()) record["cold_days"] = std::move(cold_days);
  return record;
}

json::object UnseenRecordOf(const rules::Decision& decision) {
  json::object record = RecordOf(decision);
  record["unseen"] = true;
  return record;
}

bool IsUnseen(const json::object& record) { return fields::TruthOr(record, "unseen", false); }

rules::Alarm AlarmFrom(const json::object& record) {
  rules::Alarm alarm;
  alarm.id = fields::Text(record, "alarm");
  alarm.kind = Known(rules::AlarmKindFrom(fields::Text(record, "kind")), record, "kind");
  alarm.severity = Known(rules::SeverityFrom(fields::Text(record, "severity")), record, "severity");
  alarm.cave = fields::Whole(record, "cave");
  alarm.probe = fields::MaybeWhole(record, "probe");
  alarm.since = fields::At(record, "since");
  alarm.raised = fields::At(record, "raised");
  alarm.taken = fields::MaybeAt(record, "taken");
  alarm.over = fields::MaybeAt(record, "over");
  alarm.aside_until = fields::MaybeAt(record, "aside_until");
  alarm.value = fields::Number(record, "value");
  alarm.extreme = fields::Number(record, "extreme");
  alarm.dose = fields::Number(record, "dose");
  // Earlier rules did not count these.
  alarm.beyond = rules::Millis{static_cast<std::int64_t>(fields::MaybeNumber(record, "beyond").value_or(0))};
  const rules::Millis stood = alarm.over.value_or(alarm.raised) - alarm.raised;
  const auto judged = fields::MaybeNumber(record, "judged");
  alarm.judged = judged ? rules::Millis{static_cast<std::int64_t>(*judged)} : stood;
  if (const json::object* band = fields::MaybeObject(record, "band"))
    alarm.band = rules::Figure{fields::Number(*band, "low"), fields::Number(*band, "high"), ""};
  alarm.wheels = fields::Wheels(record, "wheels");
  alarm.found_later = fields::TruthOr(record, "found_later", false);
  AddWhy(alarm, record);
  return alarm;
}

std::optional<rules::Alarm> MaybeAlarmFrom(const json::object& record) {
  try {
    return AlarmFrom(record);
  } catch (const ActFault&) {
    return std::nullopt;
  }
}

std::string LineIdOf(const rules::Decision& decision) {
  return fmt::format("{} | {} | {}", decision.alarm.id, ToText(decision.change), ToMillis(decision.at));
}

}  // namespace rindwatch
