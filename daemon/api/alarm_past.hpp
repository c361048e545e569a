// Alarms that the watch has let go: read back from the journal, as they were at their last change.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// None if no alarm of the journal is called so, or its record cannot be read.
std::optional<rules::Alarm> PastAlarm(const Book& book, const std::string& id);
// Whether it ended only because the rules of now do not see it: nothing says that it is well.
bool EndedUnseen(const Book& book, const std::string& id);
// The furthest that the air came while it lasted: of a step of a plan also what alarms told that stood beside it.
double FurthestOf(const Book& book, const rules::Alarm& alarm);
// Those that rang since, the newest first.
std::vector<rules::Alarm> AlarmsSince(const Book& book, rules::Instant since);

}  // namespace rindwatch
