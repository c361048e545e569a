#include "rules/alarms/settings.hpp"

#include <algorithm>
#include <cmath>

namespace rindwatch::rules {
namespace {

constexpr std::string_view kTrade = "common practice, no source";
constexpr std::string_view kModel =
    "a study on a simulated ripening fridge, 20 times 90 days: the order of size counts, not the digit";
constexpr std::string_view kOwnModel = "tuned on this program's own simulated fridge, judged on runs not tuned on";
constexpr std::string_view kRetail =
    "foodsafety.gov (USDA and HHS, United States): soft cheese over 40 °F, 4 °C, for more than 2 hours is thrown out";
constexpr std::string_view kCarbonDioxide = "limit for 8 hours of work of OSHA and ACGIH, United States: 5000 ppm";
constexpr std::string_view kHalfOfWork = "common practice, no source: half of the limit for 8 hours of work";
constexpr std::string_view kHalfOfShort =
    "common practice, no source: half of the ACGIH limit for 15 minutes of work, 30000 ppm";
constexpr std::string_view kAmmonia = "limit for 8 hours of work of NIOSH and ACGIH, United States: 25 ppm";

}  // namespace

// A table, which is as long as it has rows. NOLINTNEXTLINE(readability-function-size)
const std::vector<SettingRow>& SettingRows() {
  using S = Settings;
  static const std::vector<SettingRow> rows = {
      {"too warm: watch after", &S::warm_watch_after, "min", 10, 1440, kTrade},
      {"too warm: act beyond the band by", &S::warm_act_beyond, "K", 0, 10, kTrade},
      {"too warm: act after, soft and blue", &S::warm_act_after_tender, "min", 10, 1440, kTrade},
      {"too warm: act after, harder", &S::warm_act_after_hardy, "min", 10, 2880, kTrade},
      {"too warm: dose of the wheel, soft and blue", &S::warm_dose_tender, "K h", 1, 200, kModel},
      {"too warm: dose of the wheel, harder", &S::warm_dose_hardy, "K h", 1, 500, kTrade},
      {"too warm: urgent beyond the band by, soft", &S::warm_urgent_beyond_tender, "K", 1, 20, kTrade},
      {"too warm: urgent beyond the band by, harder", &S::warm_urgent_beyond_hardy, "K", 1, 20, kTrade},
      {"too warm: urgent after", &S::warm_urgent_after, "min", 5, 720, kTrade},
      {"excursion: opens above the usual by", &S::excursion_above, "K", 0.2, 5, kModel},
      {"excursion: has turned when down by", &S::excursion_turns_by, "K", 0.1, 3, kModel},
      {"excursion: patience, times the longest", &S::excursion_patience, "times", 1, 5, kModel},
      {"excursion: turns within at least", &S::excursion_turn_floor, "min", 15, 480, kOwnModel},
      {"excursion: lasts at least", &S::excursion_lasts_floor, "min", 15, 720, kModel},
      {"excursion: at its pace leaves the band within", &S::excursion_leaves_within, "min", 0, 240, kOwnModel},
      {"excursion: a door comes up in five minutes by", &S::door_rush, "K", 0.2, 3, kOwnModel},
      {"excursion: a door dries by", &S::door_dries_by, "points", 0.5, 20, kOwnModel},
      {"excursion: a door stands wide open from", &S::door_wide_open, "K", 1, 15, kOwnModel},
      {"excursion: first days", &S::excursion_first_days, "days", 2, 28, kModel},
      {"excursion: turns within, first days", &S::excursion_turn_unlearned, "min", 15, 480, kModel},
      {"excursion: lasts, first days", &S::excursion_lasts_unlearned, "min", 15, 720, kModel},
      {"wheel: beyond its limit by", &S::wheel_beyond, "K", 0, 3, kModel},
      {"wheel: beyond its limit for", &S::wheel_after, "min", 5, 720, kModel},
      {"ready cheese: not above", &S::ready_limit, "°C", 0, 10, kRetail},
      {"ready cheese: watch after", &S::ready_watch_after, "min", 10, 720, kTrade},
      {"ready cheese: act after", &S::ready_act_after, "min", 10, 1440, kRetail},
      {"ready cheese: freezes at", &S::ready_freezes, "°C", -5, 0, kTrade},
      {"too cold: watch after", &S::cold_watch_after, "min", 10, 1440, kTrade},
      {"too cold: act beyond the band by", &S::cold_act_beyond, "K", 0, 20, kTrade},
      {"too cold: act after", &S::cold_act_after, "min", 5, 720, kTrade},
      {"too cold: urgent at freezing after", &S::cold_urgent_after, "min", 5, 240, kTrade},
      {"too cold: turns within at least", &S::cold_turn_floor, "min", 15, 720, kTrade},
      {"too cold: a wheel above where to act by less than", &S::cold_wheel_near, "K", 0, 5, kOwnModel},
      {"too cold: a wheel that near for", &S::cold_wheel_after, "min", 5, 240, kOwnModel},
      {"too cold: at its pace freezes within", &S::cold_freezes_within, "min", 0, 240, kOwnModel},
      {"too dry: watch after", &S::dry_watch_after, "min", 15, 2880, kTrade},
      {"too dry: act beyond the band by", &S::dry_act_beyond, "points", 0, 30, kTrade},
      {"too dry: act after, soft and blue", &S::dry_act_after_tender, "min", 15, 2880, kTrade},
      {"too dry: act after, harder", &S::dry_act_after_hardy, "min", 15, 2880, kTrade},
      {"too dry: below its own normal by", &S::dry_below_normal, "points", 1, 20, kModel},
      {"too dry: below its own normal for", &S::dry_normal_after, "min", 10, 1440, kModel},
      {"too dry: a rind is young for", &S::dry_young_below, "days", 0, 120, kTrade},
      {"too damp: watch after", &S::damp_watch_after, "min", 30, 2880, kTrade},
      {"too damp: act beyond the band by", &S::damp_act_beyond, "points", 0, 15, kTrade},
      {"too damp: act after", &S::damp_act_after, "min", 60, 7200, kTrade},
      {"condensation: rind above the dew point by less than", &S::condensation_within, "K", 0, 2, kTrade},
      {"condensation: over above that by", &S::condensation_dry_by, "K", 0.1, 3, kTrade},
      {"condensation: watch after", &S::condensation_watch_after, "min", 15, 1440, kTrade},
      {"condensation: act after", &S::condensation_act_after, "min", 30, 2880, kTrade},
      {"silent: watch after", &S::silent_watch_after, "min", 10, 1440, kModel},
      {"silent: act after, small wheels", &S::silent_act_after_small, "min", 15, 1440, kModel},
      {"silent: act after", &S::silent_act_after, "min", 15, 2880, kModel},
      {"silent: small up to", &S::silent_small_up_to, "g", 50, 3000, kModel},
      {"silent: gas, watch after", &S::silent_gas_watch_after, "min", 10, 240, kTrade},
      {"silent: gas, act after", &S::silent_gas_act_after, "min", 15, 720, kTrade},
      {"stuck: times the longest equal run", &S::stuck_runs, "times", 1.5, 20, kModel},
      {"stuck: at least", &S::stuck_least, "min", 10, 1440, kModel},
      {"stuck: first days", &S::stuck_first_days, "days", 1, 28, kModel},
      {"stuck: temperature, first days", &S::stuck_unlearned_temperature, "min", 30, 20160, kTrade},
      {"stuck: humidity, first days", &S::stuck_unlearned_humidity, "min", 30, 20160, kTrade},
      {"stuck: both at once, times the longest", &S::stuck_together_runs, "times", 2, 100, kOwnModel},
      {"wet: above", &S::wet_above, "%", 90, 110, kModel},
      {"wet: after", &S::wet_after, "min", 30, 60, kModel},
      {"wet: over below that by", &S::wet_dried_by, "points", 0.5, 10, kModel},
      {"disagree: apart by", &S::disagree_temperature, "K", 0.3, 10, kTrade},
      {"disagree: apart by, humidity", &S::disagree_humidity, "points", 1, 40, kTrade},
      {"disagree: after", &S::disagree_after, "min", 30, 2880, kTrade},
      {"disagree: not known after", &S::disagree_unknown_after, "min", 10, 720, kTrade},
      {"disagree: over below, of that", &S::disagree_back, "share", 0.2, 0.96, kTrade},
      {"battery: hint at", &S::battery_hint, "%", 1, 90, kTrade},
      {"battery: watch at", &S::battery_watch, "%", 1, 90, kTrade},
      {"battery: over above the first by", &S::battery_back, "points", 1, 30, kTrade},
      {"plant: cools at less than, of the week before", &S::fall_rate_share, "share", 0.2, 0.95, kOwnModel},
      {"plant: mean of a day up by", &S::day_mean_up, "K", 0.1, 3, kModel},
      {"plant: both for", &S::plant_sign_after, "min", 30, 1440, kOwnModel},
      {"plant: runs more than, of two hours", &S::plant_runs_share, "share", 0.5, 1, kTrade},
      {"plant: and the air rises by, an hour", &S::plant_rises, "K", 0.1, 5, kTrade},
      {"plant: still for at least", &S::plant_still_after, "min", 15, 720, kTrade},
      {"plant: still, times its longest rest", &S::plant_rests, "times", 1, 5, kTrade},
      {"door: act after", &S::door_act_after, "min", 3, 240, kModel},
      {"door: quiet after it", &S::door_quiet_after, "min", 5, 120, kTrade},
      {"door: the air turns after a round within", &S::round_turns_after, "min", 5, 120, kTrade},
      {"power: last words within", &S::power_together, "min", 1, 30, kTrade},
      {"power: urgent after, soft and blue", &S::power_urgent_after_tender, "min", 15, 2880, kTrade},
      {"power: urgent after, harder", &S::power_urgent_after_hardy, "min", 15, 2880, kTrade},
      {"unwatched: moved by more than", &S::unwatched_moved, "K", 0.3, 10, kTrade},
      {"humidifier: dry for", &S::humidifier_dry_for, "min", 5, 1440, kTrade},
      {"humidifier: over after", &S::humidifier_over_after, "min", 1, 240, kTrade},
      {"drain: water stands for", &S::drain_stands_for, "min", 2, 1440, kTrade},
      {"drain: over after", &S::drain_over_after, "min", 1, 240, kTrade},
      {"carbon dioxide: watch", &S::co2_watch, "ppm", 500, 5000, kHalfOfWork},
      {"carbon dioxide: act", &S::co2_act, "ppm", 1000, 10000, kCarbonDioxide},
      {"carbon dioxide: urgent", &S::co2_urgent, "ppm", 5000, 30000, kHalfOfShort},
      {"ammonia: watch", &S::ammonia_watch, "ppm", 1, 25, kTrade},
      {"ammonia: act", &S::ammonia_act, "ppm", 5, 50, kAmmonia},
      {"gas: watch after", &S::gas_watch_after, "min", 1, 60, kTrade},
      {"gas: act after", &S::gas_act_after, "min", 1, 15, kTrade},
      {"gas: over after", &S::gas_over_after, "min", 5, 240, kTrade},
      {"gas: over below, of the first", &S::gas_back, "share", 0.5, 0.98, kTrade},
      {"over: inside by", &S::deadband_temperature, "K", 0.1, 3, kTrade},
      {"over: inside by, humidity", &S::deadband_humidity, "points", 0.5, 10, kTrade},
      {"over: inside by, of a narrow band", &S::deadband_share, "share", 0.05, 0.45, kTrade},
      {"over: back inside for", &S::off_after, "min", 10, 720, kModel},
      {"over: inside at all for", &S::off_inside, "min", 240, 10080, kTrade},
      {"I am here: quiet for", &S::here_for, "min", 10, 240, kTrade},
      {"night: from", &S::night_from, "o'clock", 18, 24, kTrade},
      {"night: until", &S::night_until, "o'clock", 3, 11, kTrade},
      {"night: calm for", &S::night_calm_for, "min", 60, 1440, kTrade},
  };
  return rows;
}

const SettingRow* SettingRowOf(std::string_view id) {
  const auto found = std::ranges::find(SettingRows(), id, &SettingRow::id);
  return found == SettingRows().end() ? nullptr : &*found;
}

Settings SettingsWith(const OwnSettings& own) {
  Settings settings;
  for (const auto& [id, value] : own) {
    const SettingRow* row = SettingRowOf(id);
    if (row && std::isfinite(value) && value >= row->least && value <= row->most) settings.*row->field = value;
  }
  return settings;
}

}  // namespace rindwatch::rules
