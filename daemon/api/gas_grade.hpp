// How bad a gas is by its figure of now: one judgement for the cave's page, the alarm's words and who is asked in.
#pragma once

#include <string_view>

#include "rules/alarms/gas_limits.hpp"

namespace rindwatch {

// "low", "watch", "act", "urgent"
inline std::string_view GradeWord(rules::Severity grade) {
  return grade == rules::Severity::kHint ? std::string_view("low") : rules::ToText(grade);
}

// Whoever is outside stays there.
inline bool BarsEntry(rules::Severity grade) { return grade >= rules::Severity::kAct; }

}  // namespace rindwatch
