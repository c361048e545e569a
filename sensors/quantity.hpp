// From a probe's number to the thousandths that are stored.
#pragma once

#include <cstdint>
#include <string>
#include <variant>

#include "rules/reading.hpp"
#include "sensors/route.hpp"

namespace rindwatch::sensors {

// What a channel can physically say, in its kind's unit; a value outside it is a broken probe or a wrong unit.
// -60 to 100 degrees Celsius, 0 to 105 % humidity (probes overshoot when wet), 0 to 100 kW, and so on. Chosen here,
// from memory of what probes span.
struct Limits {
  double low = 0;
  double high = 0;
};
Limits LimitsOf(rules::ChannelKind kind);

// `value` is finite and counted in `unit`. Thousandths of the kind's own unit, rounded to the nearest; or one clause
// that says what lies outside which limits.
std::variant<std::int64_t, std::string> ToMilli(rules::ChannelKind kind, Unit unit, double value);

}  // namespace rindwatch::sensors
