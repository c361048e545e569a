#include "sensors/quantity.hpp"

#include <array>
#include <cmath>
#include <cstdio>

#include "rules/units.hpp"

namespace rindwatch::sensors {
namespace {

using rules::ChannelKind;

// In the kind's own unit: degrees Celsius, percent, 1 for open or for water, watts, ppm, grams.
double InOwnUnit(Unit unit, double value) {
  switch (unit) {
    case Unit::kFahrenheit:
      return rules::ToCelsius(rules::Fahrenheit{value}).value;
    case Unit::kKelvin:
      return value - 273.15;
    case Unit::kFraction:
      return value * 100.0;
    case Unit::kShutIsOne:
    case Unit::kWaterIsZero:
      return 1.0 - value;
    case Unit::kKilogram:
      return value * 1000.0;
    case Unit::kCelsius:
    case Unit::kPercent:
    case Unit::kOpenIsOne:
    case Unit::kWaterIsOne:
    case Unit::kWatt:
    case Unit::kPpm:
    case Unit::kGram:
      break;
  }
  return value;
}

const char* SymbolOf(ChannelKind kind) {
  switch (kind) {
    case ChannelKind::kTemperature:
    case ChannelKind::kWheelTemperature:
      return " °C";
    case ChannelKind::kHumidity:
    case ChannelKind::kBattery:
      return " %";
    case ChannelKind::kPlantPower:
      return " W";
    case ChannelKind::kCarbonDioxide:
    case ChannelKind::kAmmonia:
      return " ppm";
    case ChannelKind::kWeight:
      return " g";
    case ChannelKind::kDoor:
    case ChannelKind::kHumidifierWater:
    case ChannelKind::kDrainWater:
      break;
  }
  return "";
}

std::string Shown(double value) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.6g", value);
  return text.data();
}

}  // namespace

Limits LimitsOf(ChannelKind kind) {
  switch (kind) {
    case ChannelKind::kTemperature:
    case ChannelKind::kWheelTemperature:
      return {-60, 100};
    case ChannelKind::kHumidity:
    case ChannelKind::kBattery:
      return {0, 105};
    case ChannelKind::kDoor:
    case ChannelKind::kHumidifierWater:
    case ChannelKind::kDrainWater:
      return {0, 1};
    case ChannelKind::kPlantPower:
      return {0, 100'000};
    case ChannelKind::kCarbonDioxide:
    case ChannelKind::kAmmonia:
      return {0, 1'000'000};
    case ChannelKind::kWeight:
      return {-1'000, 1'000'000};  // a scale that was tared with something on it goes below zero
  }
  return {};
}

std::variant<std::int64_t, std::string> ToMilli(ChannelKind kind, Unit unit, double value) {
  const double own = InOwnUnit(unit, value);
  const auto [low, high] = LimitsOf(kind);
  const bool between = IsContact(kind) && own != 0.0 && own != 1.0;
  if (between) return "expected 0 or 1 for the " + std::string(NameOf(kind)) + ", found " + Shown(value);
  if (own < low || own > high) {
    const char* symbol = SymbolOf(kind);
    return "expected a " + std::string(NameOf(kind)) + " from " + Shown(low) + " to " + Shown(high) + symbol +
           ", found " + Shown(own) + symbol + "; look at the probe and at the unit in the route";
  }
  return std::llround(own * 1000.0);
}

}  // namespace rindwatch::sensors
