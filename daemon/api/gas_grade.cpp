#include "daemon/api/gas_grade.hpp"

namespace rindwatch {

rules::Severity GasLimits::Of(double value) const {
  if (urgent && value >= *urgent) return rules::Severity::kUrgent;
  return value >= act ? rules::Severity::kAct : value >= watch ? rules::Severity::kWatch : rules::Severity::kHint;
}

GasLimits GasLimitsOf(rules::ChannelKind kind, const rules::Settings& limits) {
  if (kind == rules::ChannelKind::kCarbonDioxide) return {limits.co2_watch, limits.co2_act, limits.co2_urgent};
  return {limits.ammonia_watch, limits.ammonia_act, std::nullopt};
}

std::string_view GradeWord(rules::Severity grade) {
  return grade == rules::Severity::kHint ? std::string_view("low") : rules::ToText(grade);
}

}  // namespace rindwatch
