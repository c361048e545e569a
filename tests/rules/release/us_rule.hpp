// A published rule: 60 days at not less than 35 degrees Fahrenheit, which is 5/3 degrees Celsius exactly (US Code of
// Federal Regulations, title 21, part 133, as for the kind of 133.113, where the milk was not pasteurised).
#pragma once

#include "rules/release/qualifying.hpp"

namespace rindwatch::rules::testing {

inline QualifyingRule UsSixtyDays() {
  QualifyingRule rule;
  rule.name = "60 days at 35 °F or more";
  rule.min_temperature = ToCelsius(Fahrenheit{35});
  rule.min_days = 60;
  return rule;
}

}  // namespace rindwatch::rules::testing
