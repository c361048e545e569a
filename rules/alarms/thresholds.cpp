#include "rules/alarms/thresholds.hpp"

#include <algorithm>

namespace rindwatch::rules::watch {
namespace {

Ladder Warm(const Figure& band, bool tender, const Settings& s) {
  return {.side = 1,
          .edge = band.high,
          .act_at = band.high + s.warm_act_beyond,
          .watch_after = Minutes(s.warm_watch_after),
          .act_after = Minutes(tender ? s.warm_act_after_tender : s.warm_act_after_hardy),
          .act_dose = tender ? s.warm_dose_tender : s.warm_dose_hardy,
          .urgent_at = band.high + (tender ? s.warm_urgent_beyond_tender : s.warm_urgent_beyond_hardy),
          .urgent_after = Minutes(s.warm_urgent_after)};
}

Ladder Ready(const Figure& band, const Settings& s) {
  return {.side = 1,
          .edge = band.high,
          .act_at = band.high,
          .watch_after = Minutes(s.ready_watch_after),
          .act_after = Minutes(s.ready_act_after),
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

// Finished cheese is kept near freezing on purpose. A little under it nothing happens to it; its paste freezes between
// one and two degrees below, which spoils the texture and is no danger to anybody (common practice, no source).
Ladder ReadyCold(const Figure& band, const Settings& s) {
  return {.side = -1,
          .edge = band.low,
          .act_at = std::min(band.low, s.ready_freezes),
          .watch_after = Minutes(s.ready_watch_after),
          .act_after = Minutes(s.cold_act_after),
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

Ladder Cold(const Figure& band, const Settings& s) {
  const double freezing = std::min(kFreezing, band.low);
  return {.side = -1,
          .edge = band.low,
          .act_at = std::max(band.low - s.cold_act_beyond, freezing),
          .watch_after = Minutes(s.cold_watch_after),
          .act_after = Minutes(s.cold_act_after),
          .act_dose = std::nullopt,
          .urgent_at = freezing,
          .urgent_after = Minutes(s.cold_urgent_after)};
}

Ladder Dry(const Figure& band, bool tender, const Settings& s) {
  return {.side = -1,
          .edge = band.low,
          .act_at = band.low - s.dry_act_beyond,
          .watch_after = Minutes(s.dry_watch_after),
          .act_after = Minutes(tender ? s.dry_act_after_tender : s.dry_act_after_hardy),
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

Ladder Damp(const Figure& band, const Settings& s) {
  return {.side = 1,
          .edge = band.high >= 100 ? kMostHumidity : band.high,
          .act_at = band.high >= 100 ? kMostHumidity : std::min(band.high + s.damp_act_beyond, (band.high + 100) / 2),
          .watch_after = Minutes(s.damp_watch_after),
          .act_after = Minutes(s.damp_act_after),
          .act_dose = std::nullopt,
          .urgent_at = std::nullopt,
          .urgent_after = {}};
}

}  // namespace

Ladder LadderFor(AlarmKind kind, const Figure& band, bool tender, const Settings& settings, bool ready) {
  switch (kind) {
    case AlarmKind::kTooWarm:
      return ready ? Ready(band, settings) : Warm(band, tender, settings);
    case AlarmKind::kTooCold:
      return ready ? ReadyCold(band, settings) : Cold(band, settings);
    case AlarmKind::kTooDry:
      return Dry(band, tender, settings);
    case AlarmKind::kTooDamp:
      return Damp(band, settings);
    default:
      return {};
  }
}

double HalfOfShown(ChannelKind kind) { return kind == ChannelKind::kTemperature ? 0.05 : 0.5; }

double DeadbandOf(ChannelKind kind, const Figure& band, const Settings& settings) {
  const double usual = kind == ChannelKind::kTemperature ? settings.deadband_temperature : settings.deadband_humidity;
  return std::min(usual, (band.high - band.low) * settings.deadband_share);
}

}  // namespace rindwatch::rules::watch
