// What an alarm's first three steps go by: nothing is known yet, a cause is, or hours have passed and it still stands.
// Pure; the steps themselves are words, one list for page, letter and terminal.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "rules/alarms/engine.hpp"

namespace rindwatch::rules {

enum class Knowing {
  kNothing,
  kDoor,      // it stands or stood open
  kAjar,      // it may stand open: the air does not turn back after a round
  kDelivery,  // warm goods came in
  kDefrost,
  kPlant,  // it does not keep up, or stands still
  kProbe,  // the probe is at fault
  kPower,
  kBack,     // the air is back within its band, and it is over once it stays
  kTurning,  // it is on its way there
  kPress,    // it comes to wheels within the hour, or has: they are seen to while somebody looks for the cause
  kLong,     // hours have passed, whatever it was thought to be
  kWater,    // a contact tells of the humidifier or the drain
  kReady,    // finished cheese lies there and belongs in the cold
  kGas,      // gas stands there, or is measured there and nobody knows: people first
  kStep,     // the band moved and the air is as it was
  kApart,    // so, and no band suits all that lies there
  kStale,    // of gas itself: enough to air the place
  kDanger,   // of gas itself: it may kill
  kCreeps,   // the mean of the day is up: a thermostat before a plant that fails
  kUnheard,  // the broker does not answer, so that nobody is heard
};
std::string_view ToText(Knowing knowing);

// What is known of the place besides its alarms.
struct Place {
  bool gas = false;  // an alarm of gas stands there or around it, or this alarm takes the word of gas that is measured
  bool ready = false;    // finished cheese, kept cold
  bool unheard = false;  // the broker does not answer
  bool apart = false;    // no band suits all that lies there
};

// `called`: what the keeper said it was (door, defrost, delivery, plant, probe, power, other); empty: nothing yet.
// `standing`: all that stand. Gas comes before all else, for whoever follows another step may walk into it. A keeper's
// word comes before the watch's own signs. What passes by itself, or with a hand on the door, is believed for two hours
// from when it was taken; then it is something else. Air that is back inside, or on its way there, comes before both:
// nothing has to be carried anywhere.
Knowing KnownOf(const Alarm& alarm, std::string_view called, const std::vector<Alarm>& standing,
                std::optional<Knowing> course, Instant at, const Place& place = {});

// Of the temperature of the air: too warm, too cold.
bool IsOfWarmth(AlarmKind kind);
// Judged by the mean of the air against a band.
bool IsOfBand(AlarmKind kind);
// By which air rings that left its usual before it left its band, if it has.
bool IsOfTurning(Why why);
// It was told because the air does not turn, and the air has not reached the edge of its band.
bool NeverLeft(const Alarm& alarm);
// The air had left its band, and `value`, its mean of now, lies inside again: by the deadband, or less and on its way
// further in. `trend` as in ChannelView, the settings those of its cave. One that never left its band is not back in
// it.
bool IsBackInside(const Alarm& alarm, double value, int trend, const Settings& settings);
// The figure that the mean has to come back to before the alarm can end, while `value`, its mean of now, lies inside
// the band again and not yet that far inside; none: it lies outside, or far enough inside, or never left.
std::optional<double> EndsAt(const Alarm& alarm, double value, const Settings& settings);
// kBack, kTurning, or none: it is still going, or rests outside.
std::optional<Knowing> CourseOf(const Alarm& alarm, double value, int trend, const Settings& settings);

}  // namespace rindwatch::rules
