// The limits and delays that a keeper may change for a cave, as data: each with what it is, its usual value, the bounds
// of sense and where it comes from. A page lists the rows; the engine reads the fields.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rindwatch::rules {

// Times in minutes, temperatures in kelvins, humidity in points, unless the row's unit says otherwise.
struct Settings {
  // Too warm: the band's edge, the distance beyond it, the doses.
  double warm_watch_after = 60, warm_act_beyond = 1.5, warm_act_after_tender = 60, warm_act_after_hardy = 180;
  double warm_dose_tender = 6, warm_dose_hardy = 20;
  double warm_urgent_beyond_tender = 4, warm_urgent_beyond_hardy = 8, warm_urgent_after = 60;
  // Too warm: an excursion that does not turn, and the wheel's own estimate.
  double excursion_above = 0.5, excursion_turns_by = 0.4, excursion_patience = 1.3;
  double excursion_turn_floor = 35, excursion_lasts_floor = 60;
  double excursion_leaves_within = 30;
  double excursion_turn_unlearned = 55, excursion_lasts_unlearned = 90, excursion_first_days = 4;
  // What came so is a door, and is given as long as doors took, unless it lets the air come too far.
  double door_rush = 0.6, door_dries_by = 1.5, door_wide_open = 5;
  double wheel_beyond = 0.3, wheel_after = 30;
  // Finished cheese kept cold.
  double ready_limit = 4, ready_watch_after = 60, ready_act_after = 120, ready_freezes = -1;
  // Too cold.
  double cold_watch_after = 180, cold_act_beyond = 7.5, cold_act_after = 60, cold_urgent_after = 15;
  double cold_turn_floor = 90, cold_wheel_near = 1, cold_wheel_after = 15, cold_freezes_within = 60;
  // Humidity.
  double dry_watch_after = 120, dry_act_beyond = 5, dry_act_after_tender = 120, dry_act_after_hardy = 240;
  double dry_below_normal = 4, dry_normal_after = 30, dry_young_below = 14;
  double damp_watch_after = 360, damp_act_beyond = 3, damp_act_after = 1440;
  double condensation_within = 0, condensation_watch_after = 60, condensation_act_after = 240;
  double condensation_dry_by = 0.5;
  // Probes.
  double silent_watch_after = 45, silent_act_after_small = 90, silent_act_after = 180;
  double silent_small_up_to = 300;
  double silent_gas_watch_after = 15, silent_gas_act_after = 45;
  double stuck_runs = 3, stuck_least = 30, stuck_unlearned_temperature = 360, stuck_unlearned_humidity = 720;
  double stuck_together_runs = 8, stuck_first_days = 4;
  double wet_above = 98.5, wet_after = 60, wet_dried_by = 1.5;
  double disagree_temperature = 1.5, disagree_humidity = 6, disagree_after = 360;
  double disagree_unknown_after = 30, disagree_back = 0.7;
  double battery_hint = 20, battery_watch = 10, battery_back = 5;
  // Plant, door, power.
  double fall_rate_share = 0.78, day_mean_up = 0.3, plant_sign_after = 120;
  double plant_runs_share = 0.9, plant_rises = 0.5, plant_still_after = 60, plant_rests = 1.5;
  double door_act_after = 20, door_quiet_after = 30, round_turns_after = 25;
  double power_urgent_after_tender = 120, power_urgent_after_hardy = 360, power_together = 5;
  double unwatched_moved = 1;
  // Water, where a contact tells of it.
  double humidifier_dry_for = 30, humidifier_over_after = 5;
  double drain_stands_for = 10, drain_over_after = 5;
  // Gas.
  double co2_watch = 2500, co2_act = 5000, co2_urgent = 15000;
  double ammonia_watch = 15, ammonia_act = 25;
  double gas_watch_after = 10, gas_act_after = 2, gas_over_after = 15, gas_back = 0.9;
  // Everywhere.
  double off_after = 60, off_inside = 1440, here_for = 60;
  double deadband_temperature = 0.5, deadband_humidity = 2, deadband_share = 0.25;
  double night_from = 22, night_until = 6.5, night_calm_for = 360;

  bool operator==(const Settings&) const = default;
};

struct SettingRow {
  std::string_view id;  // "too warm: watch after"; stored and shown by it
  double Settings::*field;
  std::string_view unit;  // "min", "K", "points", "%", "ppm", "times", "share", "K h", "°C", "o'clock", "days", "g"
  double least, most;     // of sense
  std::string_view source;
};
// In the order of a page; lives as long as the program.
const std::vector<SettingRow>& SettingRows();
const SettingRow* SettingRowOf(std::string_view id);

// What a keeper set for a cave: the row's id and the value. Of one id the last counts; unknown ids and values outside
// the bounds change nothing.
using OwnSettings = std::vector<std::pair<std::string, double>>;
Settings SettingsWith(const OwnSettings& own);

}  // namespace rindwatch::rules
