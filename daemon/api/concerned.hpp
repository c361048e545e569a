// Which wheels an alarm touches or comes to, and in how long. The loop's thread.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Wheels that are told together: of one family, place, state and forecast.
struct Concern {
  std::string family, cave, state;
  std::size_t count = 0;
  double grams = 0;                                // of one wheel; 0: not known
  std::optional<double> own;                       // the furthest that one of them came
  std::optional<rules::Millis> soonest, latest{};  // from now until it matters; none: nothing is foreseen, or for ever
  std::optional<rules::Figure> keep{};             // once it is over: the band around them then, where `own` is known

  // Once it is over: the air around them still lies beyond that band, so this event is not what took them out of it.
  bool as_before = false;

  std::optional<rules::Figure> past{};  // while it lasts: their own band, which they had left before this event

  // Whether they were themselves beyond that band, by the figures as they are shown. Nothing: nobody knows.
  std::optional<bool> LeftBand() const;
};

// Those that it touches, the most delicate first, then the youngest; without a forecast.
std::vector<Concern> Touched(const Book& book, const rules::Alarm& alarm, rules::Instant now);

// The alarm with what it comes to besides: of a box with a probe of its own the alarm of its fridge foresees nothing,
// and of silence nothing at all.
rules::Alarm AsForeseen(const ApiContext& context, rules::Alarm alarm);

// Those that such an alarm touches or comes to, the first first; once it is over those that it touched, the furthest
// first: "6 bloomies, Box 1: in 1 to 2 h".
std::vector<Concern> Concerns(const ApiContext& context, const rules::Alarm& foreseen);

// A span of a forecast that was made when it rings and now and then after, as it is left at an instant.
rules::Millis LeftOf(const rules::Alarm& alarm, rules::Millis span, rules::Instant now);

// How many wheels it touches or comes to; once it is over, touched. The one number of wheels that is told of an alarm.
std::size_t WheelsConcerned(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
