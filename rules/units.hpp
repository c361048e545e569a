// Strong types for what is measured. A bare number never crosses a public interface of the rules.
#pragma once

#include <compare>

namespace rindwatch::rules {

// A difference of two temperatures, in kelvin. Never converted with an offset.
struct Kelvins {
  double value = 0;
  auto operator<=>(const Kelvins&) const = default;
};

// A temperature on the Celsius scale.
struct Celsius {
  double value = 0;
  auto operator<=>(const Celsius&) const = default;
};

constexpr Kelvins operator-(Celsius a, Celsius b) { return {a.value - b.value}; }
constexpr Celsius operator+(Celsius a, Kelvins b) { return {a.value + b.value}; }
constexpr Celsius operator-(Celsius a, Kelvins b) { return {a.value - b.value}; }

// A temperature on the Fahrenheit scale; only for showing.
struct Fahrenheit {
  double value = 0;
  auto operator<=>(const Fahrenheit&) const = default;
};

// Exact: 9/5 and 32 (NIST SP 811, appendix B.8).
constexpr Fahrenheit ToFahrenheit(Celsius c) { return {c.value * 9.0 / 5.0 + 32.0}; }
constexpr Celsius ToCelsius(Fahrenheit f) { return {(f.value - 32.0) * 5.0 / 9.0}; }

// Relative humidity over water, in percent (0 to 100).
struct RelativeHumidity {
  double percent = 0;
  auto operator<=>(const RelativeHumidity&) const = default;
};

struct Pascals {
  double value = 0;
  auto operator<=>(const Pascals&) const = default;
};

struct Grams {
  double value = 0;
  auto operator<=>(const Grams&) const = default;
};

}  // namespace rindwatch::rules
