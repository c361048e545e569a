// An alarm as the journal keeps it.
#pragma once

#include <boost/json/object.hpp>
#include <optional>

#include "rules/alarms/engine.hpp"

namespace rindwatch {

// The whole decision, with instants in milliseconds. Stored: fields are added, never renamed.
boost::json::object RecordOf(const rules::Decision& decision);
// The same of one that the watch ends only because these rules, newer than those that raised it, do not see it:
// "unseen".
boost::json::object UnseenRecordOf(const rules::Decision& decision);
bool IsUnseen(const boost::json::object& record);
// And back: the alarm as it was at that change. Throws ActFault where the record is not one that the watch wrote.
rules::Alarm AlarmFrom(const boost::json::object& record);
// None for such a record; "rindwatch check" says what is wrong with it.
std::optional<rules::Alarm> MaybeAlarmFrom(const boost::json::object& record);
// Of what it is, without reading the rest: most records are of other things. None for such a record.
std::optional<rules::AlarmKind> KindIn(const boost::json::object& record);
// By what the alarm of such a record ended, if it did.
rules::Ending EndingIn(const boost::json::object& record);
// The id of the journal's line: the same decision gives the same id, live, after a crash and in a replay.
std::string LineIdOf(const rules::Decision& decision);

}  // namespace rindwatch
