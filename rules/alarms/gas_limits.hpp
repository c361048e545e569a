// How bad a gas that people breathe is by its figure. Pure; the limits are those of the cave.
#pragma once

#include <optional>

#include "rules/alarms/engine.hpp"
#include "rules/alarms/settings.hpp"

namespace rindwatch::rules {

// In ppm.
struct GasLimits {
  double watch, act;
  std::optional<double> urgent;  // of carbon dioxide

  // At once, without any delay; kHint: it is low.
  Severity Of(double value) const {
    if (urgent && value >= *urgent) return Severity::kUrgent;
    return value >= act ? Severity::kAct : value >= watch ? Severity::kWatch : Severity::kHint;
  }
};

// `gas`: kCarbonDioxide or kAmmonia.
inline GasLimits GasLimitsOf(ChannelKind gas, const Settings& s) {
  if (gas == ChannelKind::kCarbonDioxide) return {s.co2_watch, s.co2_act, s.co2_urgent};
  return {s.ammonia_watch, s.ammonia_act, std::nullopt};
}

}  // namespace rindwatch::rules
