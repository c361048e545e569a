// Water vapour in air: how much fits, and when it falls out. Pure functions, safe from any thread.
#pragma once

#include <optional>

#include "rules/units.hpp"

namespace rindwatch::rules {

// Where the formulas below hold (ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6).
inline constexpr Celsius kColdestAir{-100.0};
inline constexpr Celsius kHottestAir{200.0};
// Below the triple point of water the formula over ice rules, above it the one over water.
inline constexpr Celsius kTriplePoint{0.01};

// Pressure of saturated vapour over water, below the triple point over ice. Formulation of Hyland and Wexler (1983) as
// printed by ASHRAE; within 0.0225 % of IAPWS-95 from 0 to 30 degrees. None outside of -100 to 200 degrees.
std::optional<Pascals> SaturationPressure(Celsius air);

// Partial pressure of the vapour in air of this temperature and humidity. None where there is no such air: temperature
// out of range, humidity below 0 or not a number. A probe may well say 101 %; that is taken as it is.
std::optional<Pascals> VapourPressure(Celsius air, RelativeHumidity humidity);

// The temperature at which this air begins to drip, below the triple point at which it begins to freeze out: a surface
// colder than that gets wet. None where VapourPressure has none, and for air without any vapour.
std::optional<Celsius> DewPoint(Celsius air, RelativeHumidity humidity);

}  // namespace rindwatch::rules
