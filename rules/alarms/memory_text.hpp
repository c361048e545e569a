// How memory is written down: what the probes said, what is being counted, what rings. Only for state_text.
#pragma once

#include <algorithm>
#include <vector>

#include "rules/alarms/archive.hpp"
#include "rules/alarms/body.hpp"
#include "rules/alarms/facts_text.hpp"

namespace rindwatch::rules::watch {

// ---- What the probes said ----

template <class Archive>
void Describe(Archive& archive, Cadence& cadence) {
  std::vector<std::int64_t> gaps = cadence.Gaps();
  Field(archive, gaps);
  if constexpr (Archive::kReads) {
    if (std::ranges::any_of(gaps, [](std::int64_t gap) { return gap <= 0 || gap > kFarthest; })) archive.Spoil();
    if (archive.Ok()) cadence = Cadence::FromGaps(gaps);
  }
}

template <class Archive>
void Describe(Archive& archive, Window& window) {
  int length = window.Minutes();
  Number(archive, length, 3, 24 * 60);
  std::int64_t minute = window.OpenMinute(), sum = window.OpenSum(), count = window.OpenCount();
  Number(archive, minute, 0, kFarthest);
  Field(archive, sum);
  Field(archive, count);
  const std::vector<std::int32_t> held = window.Closed();
  std::vector<std::int64_t> closed(held.begin(), held.end());
  Field(archive, closed);
  if constexpr (Archive::kReads) {
    const auto fits = [](std::int64_t value) { return value >= Window::kEmpty && value <= -(Window::kEmpty + 1); };
    if (!std::ranges::all_of(closed, fits)) archive.Spoil();
    if (!archive.Ok()) return;
    window = Window{length};
    std::vector<std::int32_t> values;
    values.reserve(closed.size());
    for (const std::int64_t value : closed) values.push_back(static_cast<std::int32_t>(value));
    if (!window.Restore(minute, sum, count, values)) archive.Spoil();
  }
}

template <class Archive>
void Describe(Archive& archive, Habit& habit, ChannelKind kind) {
  Field(archive, habit.since);
  if (kind == ChannelKind::kHumidity) return habit.humidity.Describe(archive);
  habit.spread.Describe(archive);
  habit.day_mean.Describe(archive);
  habit.whole_day.Describe(archive);
  habit.fall_rate.Describe(archive);
  habit.legs.Describe(archive);
}

template <class Archive>
void Field(Archive& archive, Delay& delay) {
  Field(archive, delay.beyond);
  Field(archive, delay.inside);
}

template <class Archive>
void Describe(Archive& archive, Doubt& doubt) {
  Field(archive, doubt.same_since);
  doubt.equal_runs.Describe(archive);
  Field(archive, doubt.stuck);
  Field(archive, doubt.wet);
  Field(archive, doubt.dripping);
  Field(archive, doubt.offset);
  Field(archive, doubt.offset_known);
}

template <class Archive>
void Field(Archive& archive, WheelClass& kind) {
  Number(archive, kind.size, -20, 40);
  Number(archive, kind.evaporates, 0, 100);
  Field(archive, kind.boxed);
}

template <class Archive>
void Field(Archive& archive, Estimate& estimate) {
  Field(archive, estimate.kind);
  for (double& value : estimate.follows.at) Field(archive, value);
  Field(archive, estimate.since);
}

template <class Archive>
void Describe(Archive& archive, Channel& channel) {
  archive.Line("channel");
  Field(archive, channel.id);
  Field(archive, channel.probe);
  Number(archive, channel.kind, 1, static_cast<std::int64_t>(kLastChannelKind));
  Field(archive, channel.cave);
  Field(archive, channel.heard);
  Field(archive, channel.measured);
  Field(archive, channel.latest);
  Field(archive, channel.unbroken_since);
  Field(archive, channel.learns);
  Describe(archive, channel.cadence);
  Field(archive, channel.gaps.typical);
  Field(archive, channel.gaps.paced);
  channel.gaps.longest.Describe(archive);
  Field(archive, channel.gaps.usual);
  Describe(archive, channel.window);
  if (channel.Judged()) Describe(archive, channel.habit, channel.kind);
  Describe(archive, channel.doubt);
  Field(archive, channel.estimates);
  Field(archive, channel.fed);
  Field(archive, channel.fed_with);
}

// ---- What is judged ----

template <class Archive>
void Describe(Archive& archive, Side& side) {
  Field(archive, side.edge);
  Field(archive, side.act);
  Field(archive, side.urgent);
  Field(archive, side.lone);
  Field(archive, side.way.past);
  Field(archive, side.way.inside);
  Field(archive, side.held);
  Field(archive, side.since);
  Field(archive, side.dose);
  Field(archive, side.beyond);
  Field(archive, side.extreme);
  Field(archive, side.out);
  Field(archive, side.shown);
  Field(archive, side.trails);
}

template <class Archive>
void Field(Archive& archive, SeenWithin& seen) {
  Field(archive, seen.kind);
  Field(archive, seen.limit);
}

template <class Archive>
void Field(Archive& archive, StepWatch& step) {
  Field(archive, step.alarm);
  Field(archive, step.way.past);
  Field(archive, step.way.inside);
}

template <class Archive>
void Describe(Archive& archive, AirWatch& watch) {
  Describe(archive, watch.high);
  Describe(archive, watch.low);
  Field(archive, watch.judged);
  watch.warm.Describe(archive);
  watch.cold.Describe(archive);
  Field(archive, watch.wheel);
  Field(archive, watch.cold_wheel);
  Field(archive, watch.wheel_dose);
  Field(archive, watch.seen_within);
  Field(archive, watch.band);
  Field(archive, watch.before);
  Field(archive, watch.moved);
  Field(archive, watch.forgiven);
  Describe(archive, watch.high_step);
  Describe(archive, watch.low_step);
  Field(archive, watch.apart);
  Field(archive, watch.steps);
  Field(archive, watch.falls);
}

template <class Archive>
void Describe(Archive& archive, Counter& counter) {
  Field(archive, counter.on);
  Field(archive, counter.back);
  Field(archive, counter.since);
  Field(archive, counter.extreme);
  Field(archive, counter.unjudged);
  Field(archive, counter.spent);
}

template <class Archive>
void Describe(Archive& archive, PlantWatch& plant) {
  Field(archive, plant.most);
  Field(archive, plant.runs);
  Field(archive, plant.changed);
  plant.rests.Describe(archive);
  plant.share.Describe(archive);
}

template <class Archive>
void Describe(Archive& archive, WaterWatch& water) {
  Field(archive, water.since);
  Field(archive, water.back);
}

template <class Archive>
void Field(Archive& archive, Absence& absence) {
  Field(archive, absence.from);
  Field(archive, absence.to);
  Field(archive, absence.before);
}

template <class Archive>
void Field(Archive& archive, Shape& shape) {
  Kind(archive, shape.kind, ShapeKind::kWarmed);
  Field(archive, shape.from);
  Field(archive, shape.until);
}

template <class Archive>
void Field(Archive& archive, Swing& swing) {
  Field(archive, swing.from);
  Field(archive, swing.lasts);
  Field(archive, swing.height);
  Field(archive, swing.shift);
}

template <class Archive>
void Field(Archive& archive, Here& here) {
  Field(archive, here.keeper);
  Field(archive, here.until);
}
template <class Archive>
void Field(Archive& archive, Stay& stay) {
  Field(archive, stay.from);
  Field(archive, stay.to);
}

// ---- What rings ----

template <class Archive>
void Field(Archive& archive, Matter& matter) {
  Field(archive, matter.soonest);
  Field(archive, matter.latest);
  Field(archive, matter.wheels);
}

template <class Archive>
void Field(Archive& archive, ProbeSaid& said) {
  Field(archive, said.probe);
  Number(archive, said.kind, 1, static_cast<std::int64_t>(kLastChannelKind));
  Field(archive, said.value);
}

template <class Archive>
void Field(Archive& archive, ColdDay& cold) {
  Field(archive, cold.day);
  Field(archive, cold.low);
  Field(archive, cold.wheels);
}

template <class Archive>
void Field(Archive& archive, OwnFurthest& own) {
  Field(archive, own.value);
  Field(archive, own.wheels);
}

template <class Archive>
void Describe(Archive& archive, Alarm& alarm) {
  archive.Line("alarm");
  Field(archive, alarm.id);
  Kind(archive, alarm.kind, kLastAlarmKind);
  Number(archive, alarm.severity, 1, 4);
  Field(archive, alarm.cave);
  Field(archive, alarm.probe);
  Field(archive, alarm.since);
  Field(archive, alarm.raised);
  Field(archive, alarm.asked);
  Field(archive, alarm.taken);
  Field(archive, alarm.over);
  Field(archive, alarm.aside_until);
  Field(archive, alarm.value);
  Field(archive, alarm.extreme);
  Field(archive, alarm.dose);
  Field(archive, alarm.beyond);
  Field(archive, alarm.judged);
  Field(archive, alarm.band);
  Field(archive, alarm.wheels);
  Field(archive, alarm.found_later);
  Kind(archive, alarm.why, kLastWhy);
  Field(archive, alarm.matters);
  Field(archive, alarm.cold_days);
  Field(archive, alarm.before);
  Field(archive, alarm.warmest);
  Field(archive, alarm.suppressed);
  Field(archive, alarm.cause);
  Field(archive, alarm.said);
  Field(archive, alarm.own);
  Field(archive, alarm.told_by);
  Field(archive, alarm.back_since);
  Field(archive, alarm.inside_since);
  Kind(archive, alarm.ending, kLastEnding);
  Field(archive, alarm.waited);
}

}  // namespace rindwatch::rules::watch
