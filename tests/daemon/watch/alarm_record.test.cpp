// What the journal keeps of an alarm comes back whole. Invented.
#include "daemon/watch/alarm_record.hpp"

#include <boost/json.hpp>

#include "daemon/book/fields.hpp"
#include "tests/catch.hpp"

namespace rindwatch {
namespace {

namespace json = boost::json;
using rules::FromMillis;

rules::Alarm Full() {
  rules::Alarm alarm;
  alarm.id = "too-dry-4-1763960400000";
  alarm.kind = rules::AlarmKind::kTooDry;
  alarm.severity = rules::Severity::kUrgent;
  alarm.cave = 4;
  alarm.probe = 7;
  alarm.since = FromMillis(1'763'953'200'000);
  alarm.raised = FromMillis(1'763'960'400'000);
  alarm.taken = FromMillis(1'763'961'000'000);
  alarm.over = FromMillis(1'763'970'000'000);
  alarm.aside_until = FromMillis(1'763'965'000'000);
  alarm.value = 71.25;
  alarm.extreme = 68.5;
  alarm.dose = 12.75;
  alarm.band = rules::Figure{80, 92, ""};
  alarm.wheels = {3, 8, 21};
  alarm.found_later = true;
  alarm.why = rules::Why::kOneProbe;
  alarm.cold_days = {{rules::Date{std::chrono::days{20'400}}, 1.25, {3, 5}},
                     {rules::Date{std::chrono::days{20'401}}, 0.75, {3, 5}}};
  alarm.before = 12.4;
  alarm.warmest = 14.6;
  alarm.cause = rules::AlarmKind::kHumidifierDry;
  alarm.said = {{7, rules::ChannelKind::kHumidity, 68.5}, {8, rules::ChannelKind::kTemperature, 12.5}};
  return alarm;
}

json::object Written(const rules::Alarm& alarm) {
  const rules::Decision decision{rules::Decision::Change::kOver, alarm.raised, alarm};
  return json::parse(json::serialize(RecordOf(decision))).as_object();  // as the store has it
}

}  // namespace

TEST_CASE("an alarm's record gives the alarm back, with all that the journal keeps of it") {
  CHECK(AlarmFrom(Written(Full())) == Full());
  rules::Alarm bare;
  bare.id = "door-open-1-5";
  bare.kind = rules::AlarmKind::kDoorOpen;
  CHECK(AlarmFrom(Written(bare)) == bare);
}

TEST_CASE("each kind, severity and reason of an alarm survives its record") {
  rules::Alarm alarm = Full();
  for (int kind = 0; kind <= static_cast<int>(rules::kLastAlarmKind); ++kind) {
    alarm.kind = static_cast<rules::AlarmKind>(kind);
    CHECK(AlarmFrom(Written(alarm)) == alarm);
  }
  for (int why = 0; why <= static_cast<int>(rules::kLastWhy); ++why) {
    alarm.why = static_cast<rules::Why>(why);
    CHECK(AlarmFrom(Written(alarm)) == alarm);
  }
  for (int severity = 1; severity <= 4; ++severity) {
    alarm.severity = static_cast<rules::Severity>(severity);
    CHECK(AlarmFrom(Written(alarm)) == alarm);
  }
}

TEST_CASE("a record that the watch did not write is none") {
  const json::object whole = Written(Full());
  for (const char* name : {"alarm", "kind", "severity", "cave", "since", "raised", "value", "wheels"}) {
    CAPTURE(name);
    json::object without = whole;
    without.erase(name);
    CHECK_THROWS_AS(AlarmFrom(without), ActFault);
    CHECK_FALSE(MaybeAlarmFrom(without));
    json::object other = whole;
    other[name] = json::array{json::object{}};
    CHECK_FALSE(MaybeAlarmFrom(other));
  }
  json::object of_tomorrow = whole;
  of_tomorrow["kind"] = "too loud";
  CHECK_FALSE(MaybeAlarmFrom(of_tomorrow));
}

}  // namespace rindwatch
