#include "rules/alarms/thresholds.hpp"

#include <algorithm>

namespace rindwatch::rules::watch {
namespace {

Ladder Warm(const Figure& band, bool tender) {
  return {.side = 1,
          .edge = band.high,
          .act_at = band.high + kWarmActBeyond,
          .watch_after = kWarmWatchAfter,
          .act_after = tender ? kWarmActAfterTender : kWarmActAfterHardy,
          .act_dose = tender ? kWarmDoseTender : kWarmDoseHardy,
          .urgent_at = band.high + (tender ? kWarmUrgentBeyondTender : kWarmUrgentBeyondHardy),
          .urgent_after = kWarmUrgentAfter};
}

Ladder Cold(const Figure& band) {
  const double freezing = std::min(kFreezing, band.low);
  return {.side = -1,
          .edge = band.low,
          .act_at = std::max(band.low - kColdActBeyond, freezing),
          .watch_after = kColdWatchAfter,
          .act_after = kColdActAfter,
          .act_dose = std::nullopt,
          .urgent_at = freezing,
          .urgent_after = kColdUrgentAfter};
}

Ladder Dry(const Figure& band, bool tender) {
  return {.side = -1,
          .edge = band.low,
          .act_at = band.low - kDryActBeyond,
          .watch_after = kDryWatchAfter,
          .act_after = tender ? kDryActAfterTender : kDryActAfterHardy,
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

Ladder Damp(const Figure& band) {
  return {.side = 1,
          .edge = band.high >= 100 ? kMostHumidity : band.high,
          .act_at = band.high >= 100 ? kMostHumidity : band.high,
          .watch_after = kDampWatchAfter,
          .act_after = kDampActAfter,
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

}  // namespace

Ladder LadderFor(AlarmKind kind, const Figure& band, bool tender) {
  switch (kind) {
    case AlarmKind::kTooWarm:
      return Warm(band, tender);
    case AlarmKind::kTooCold:
      return Cold(band);
    case AlarmKind::kTooDry:
      return Dry(band, tender);
    case AlarmKind::kTooDamp:
      return Damp(band);
    case AlarmKind::kProbeSilent:
      break;
  }
  return {};
}

double DeadbandOf(ChannelKind kind, const Figure& band) {
  const double usual = kind == ChannelKind::kTemperature ? kTemperatureDeadband : kHumidityDeadband;
  return std::min(usual, (band.high - band.low) * kDeadbandShare);
}

}  // namespace rindwatch::rules::watch
