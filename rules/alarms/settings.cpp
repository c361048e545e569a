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
    "home guidance for soft cheese that is ready to eat: over 4 °C for two hours is too long";
constexpr std::string_view kWork =
    "common practice for gas at work: 5 000 ppm CO2 and 25 ppm NH3 are usual 8-hour limits";

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
      {"excursion: turns within, first days", &S::excursion_turn_unlearned, "min", 15, 480, kModel},
      {"excursion: lasts, first days", &S::excursion_lasts_unlearned, "min", 15, 720, kModel},
      {"wheel: beyond its limit by", &S::wheel_beyond, "K", 0, 3, kModel},
      {"wheel: beyond its limit for", &S::wheel_after, "min", 5, 720, kModel},
      {"ready cheese: not above", &S::ready_limit, "°C", 0, 10, kRetail},
      {"ready cheese: watch after", &S::ready_watch_after, "min", 10, 720, kRetail},
      {"ready cheese: act after", &S::ready_act_after, "min", 10, 1440, kRetail},
      {"too cold: watch after", &S::cold_watch_after, "min", 10, 1440, kTrade},
      {"too cold: act beyond the band by", &S::cold_act_beyond, "K", 0, 20, kTrade},
      {"too cold: act after", &S::cold_act_after, "min", 5, 720, kTrade},
      {"too cold: urgent at freezing after", &S::cold_urgent_after, "min", 5, 240, kTrade},
      {"too cold: turns within at least", &S::cold_turn_floor, "min", 15, 720, kTrade},
      {"too cold: a wheel above where to act by less than", &S::cold_wheel_near, "K", 0, 5, kOwnModel},
      {"too dry: watch after", &S::dry_watch_after, "min", 15, 2880, kTrade},
      {"too dry: act beyond the band by", &S::dry_act_beyond, "points", 0, 30, kTrade},
      {"too dry: act after, soft and blue", &S::dry_act_after_tender, "min", 15, 2880, kTrade},
      {"too dry: act after, harder", &S::dry_act_after_hardy, "min", 15, 2880, kTrade},
      {"too dry: below its own normal by", &S::dry_below_normal, "points", 1, 20, kModel},
      {"too damp: watch after", &S::damp_watch_after, "min", 30, 2880, kTrade},
      {"too damp: act beyond the band by", &S::damp_act_beyond, "points", 0, 15, kTrade},
      {"too damp: act after", &S::damp_act_after, "min", 60, 7200, kTrade},
      {"condensation: rind above the dew point by less than", &S::condensation_within, "K", 0, 2, kTrade},
      {"condensation: watch after", &S::condensation_watch_after, "min", 15, 1440, kTrade},
      {"condensation: act after", &S::condensation_act_after, "min", 30, 2880, kTrade},
      {"silent: watch after", &S::silent_watch_after, "min", 10, 1440, kModel},
      {"silent: act after, small wheels", &S::silent_act_after_small, "min", 15, 1440, kModel},
      {"silent: act after", &S::silent_act_after, "min", 15, 2880, kModel},
      {"silent: gas, watch after", &S::silent_gas_watch_after, "min", 10, 240, kWork},
      {"silent: gas, act after", &S::silent_gas_act_after, "min", 15, 720, kWork},
      {"stuck: times the longest equal run", &S::stuck_runs, "times", 1.5, 20, kModel},
      {"stuck: at least", &S::stuck_least, "min", 10, 1440, kModel},
      {"stuck: temperature, first days", &S::stuck_unlearned_temperature, "min", 30, 20160, kTrade},
      {"stuck: humidity, first days", &S::stuck_unlearned_humidity, "min", 30, 20160, kTrade},
      {"stuck: both at once, times the longest", &S::stuck_together_runs, "times", 2, 100, kOwnModel},
      {"wet: above", &S::wet_above, "%", 90, 110, kModel},
      {"wet: after", &S::wet_after, "min", 30, 60, kModel},
      {"disagree: apart by", &S::disagree_temperature, "K", 0.3, 10, kTrade},
      {"disagree: apart by, humidity", &S::disagree_humidity, "points", 1, 40, kTrade},
      {"disagree: after", &S::disagree_after, "min", 30, 2880, kTrade},
      {"battery: hint at", &S::battery_hint, "%", 1, 90, kTrade},
      {"battery: watch at", &S::battery_watch, "%", 1, 90, kTrade},
      {"plant: cools at less than, of the week before", &S::fall_rate_share, "share", 0.2, 0.95, kOwnModel},
      {"plant: mean of a day up by", &S::day_mean_up, "K", 0.1, 3, kModel},
      {"plant: runs more than, of two hours", &S::plant_runs_share, "share", 0.5, 1, kTrade},
      {"plant: and the air rises by, an hour", &S::plant_rises, "K", 0.1, 5, kTrade},
      {"plant: still for at least", &S::plant_still_after, "min", 15, 720, kTrade},
      {"door: act after", &S::door_act_after, "min", 3, 240, kModel},
      {"door: quiet after it", &S::door_quiet_after, "min", 5, 120, kTrade},
      {"door: the air turns after a round within", &S::round_turns_after, "min", 5, 120, kTrade},
      {"power: urgent after, soft and blue", &S::power_urgent_after_tender, "min", 15, 2880, kTrade},
      {"power: urgent after, harder", &S::power_urgent_after_hardy, "min", 15, 2880, kTrade},
      {"humidifier: dry for", &S::humidifier_dry_for, "min", 5, 1440, kTrade},
      {"drain: water stands for", &S::drain_stands_for, "min", 2, 1440, kTrade},
      {"carbon dioxide: watch", &S::co2_watch, "ppm", 500, 5000, kWork},
      {"carbon dioxide: act", &S::co2_act, "ppm", 1000, 10000, kWork},
      {"carbon dioxide: urgent", &S::co2_urgent, "ppm", 5000, 30000, kWork},
      {"ammonia: watch", &S::ammonia_watch, "ppm", 1, 25, kWork},
      {"ammonia: act", &S::ammonia_act, "ppm", 5, 50, kWork},
      {"over: back inside for", &S::off_after, "min", 10, 720, kModel},
      {"over: inside at all for", &S::off_inside, "min", 240, 10080, kTrade},
      {"I am here: quiet for", &S::here_for, "min", 10, 240, kTrade},
      {"night: from", &S::night_from, "o'clock", 18, 24, kTrade},
      {"night: until", &S::night_until, "o'clock", 3, 11, kTrade},
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
