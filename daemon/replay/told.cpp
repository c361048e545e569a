#include "daemon/replay/told.hpp"

#include <boost/json.hpp>

#include "daemon/book/fields.hpp"
#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Decision;

namespace {

// By its text; the journal holds these.
Decision::Change ChangeFrom(const std::string& text) {
  using Change = Decision::Change;
  for (const Change change :
       {Change::kRaised, Change::kRaisedSeverity, Change::kBack, Change::kStays, Change::kQuieted, Change::kOver}) {
    if (ToText(change) == text) return change;
  }
  throw ActFault{"A line of the journal tells a change of an alarm that nobody knows.", "change", "a change", text, ""};
}

}  // namespace

Decision DecisionFrom(const JournalLine& line) {
  const json::value parsed = json::parse(line.body);
  const json::object& body = parsed.as_object();
  return {ChangeFrom(fields::Text(body, "change")), line.at, AlarmFrom(body)};
}

}  // namespace rindwatch
