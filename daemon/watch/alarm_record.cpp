#include "daemon/watch/alarm_record.hpp"

#include <fmt/format.h>
#include <boost/json.hpp>

#include "daemon/book/line.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {
json::value OrNull(const std::optional<rules::Instant>& at) {
  return at ? json::value(ToMillis(*at)) : json::value(nullptr);
}
}  // namespace

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
  json::array uncounted;
  for (const rules::Date day : alarm.uncounted) uncounted.push_back(json::string(ToText(day)));
  if (!uncounted.empty()) record["uncounted"] = std::move(uncounted);
  return record;
}

std::string LineIdOf(const rules::Decision& decision) {
  return fmt::format("{} | {} | {}", decision.alarm.id, ToText(decision.change), ToMillis(decision.at));
}

}  // namespace rindwatch
