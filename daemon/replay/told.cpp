#include "daemon/replay/told.hpp"

#include <boost/json.hpp>

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Decision;

namespace {

// By its text; the journal holds these five.
Decision::Change ChangeFrom(const std::string& text) {
  using Change = Decision::Change;
  for (const Change change :
       {Change::kRaised, Change::kRaisedSeverity, Change::kBack, Change::kQuieted, Change::kOver}) {
    if (ToText(change) == text) return change;
  }
  throw ActFault{"A line of the journal tells a change of an alarm that nobody knows.", "change", "a change", text, ""};
}

}  // namespace

Decision DecisionFrom(const JournalLine& line) {
  const json::value parsed = json::parse(line.body);
  const json::object& body = parsed.as_object();
  Decision decision{ChangeFrom(fields::Text(body, "change")), line.at, {}};
  rules::Alarm& alarm = decision.alarm;
  alarm.id = fields::Text(body, "alarm");
  alarm.kind = rules::AlarmKindFrom(fields::Text(body, "kind")).value();
  alarm.severity = rules::SeverityFrom(fields::Text(body, "severity")).value();
  alarm.cave = fields::Whole(body, "cave");
  alarm.probe = fields::MaybeWhole(body, "probe");
  alarm.since = fields::At(body, "since");
  alarm.raised = fields::At(body, "raised");
  alarm.over = fields::MaybeAt(body, "over");
  alarm.extreme = fields::Number(body, "extreme");
  alarm.dose = fields::Number(body, "dose");
  return decision;
}

}  // namespace rindwatch
