// How bad a gas is by its figure of now: one judgement for the cave's page, the alarm's words and who is asked in.
#pragma once

#include <optional>
#include <string_view>

#include "rules/alarms/engine.hpp"
#include "rules/alarms/settings.hpp"

namespace rindwatch {

// In ppm.
struct GasLimits {
  double watch, act;
  std::optional<double> urgent;  // of carbon dioxide

  // kHint: it is low.
  rules::Severity Of(double value) const;
};
// `kind`: of a gas.
GasLimits GasLimitsOf(rules::ChannelKind kind, const rules::Settings& limits);

// "low", "watch", "act", "urgent"
std::string_view GradeWord(rules::Severity grade);

// Whoever is outside stays there.
inline bool BarsEntry(rules::Severity grade) { return grade >= rules::Severity::kAct; }

}  // namespace rindwatch
