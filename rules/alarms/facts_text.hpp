// How facts are written down: plans and zones, which several share and which stand once, and the wheels. Only for
// state_text.
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "rules/alarms/archive.hpp"
#include "rules/alarms/body.hpp"

namespace rindwatch::rules::watch {

// What the records refer to by number.
struct Tables {
  std::vector<std::shared_ptr<const Plan>> plans;
  std::vector<Zone> zones;
};

inline bool Equal(const Zone& a, const Zone& b) {
  const auto same = [](const Zone::Transition& x, const Zone::Transition& y) {
    return x.from == y.from && x.offset == y.offset;
  };
  return a.Name() == b.Name() && a.FirstOffset() == b.FirstOffset() &&
         std::ranges::equal(a.Transitions(), b.Transitions(), same);
}

template <class Archive>
void Field(Archive& archive, Figure& figure) {
  Field(archive, figure.low);
  Field(archive, figure.high);
  Field(archive, figure.source);
}

template <class Archive>
void Field(Archive& archive, ActId& id) {
  std::string text = id.Text();
  Field(archive, text);
  if constexpr (Archive::kReads) id = text;
}

template <class Archive, class Enum>
void Kind(Archive& archive, Enum& kind, Enum last) {
  Number(archive, kind, 0, static_cast<std::int64_t>(last));
}

template <class Archive>
void Field(Archive& archive, AlarmKind& kind) {
  Kind(archive, kind, kLastAlarmKind);
}

template <class Archive>
void Field(Archive& archive, std::pair<std::string, double>& own) {
  Field(archive, own.first);
  Field(archive, own.second);
}

// ---- Zones ----

template <class Archive>
void Seconds(Archive& archive, std::chrono::seconds& offset) {
  std::int64_t count = offset.count();
  Number(archive, count, -200'000, 200'000);
  offset = std::chrono::seconds{count};
}

template <class Archive>
void Field(Archive& archive, Zone::Transition& transition) {
  Field(archive, transition.from);
  Seconds(archive, transition.offset);
}

template <class Archive>
void Describe(Archive& archive, Zone& zone) {
  archive.Line("zone");
  std::string name = zone.Name();
  std::chrono::seconds offset = zone.FirstOffset();
  std::vector<Zone::Transition> transitions = zone.Transitions();
  Field(archive, name);
  Seconds(archive, offset);
  Field(archive, transitions);
  if constexpr (Archive::kReads) {
    if (!std::ranges::is_sorted(transitions, {}, &Zone::Transition::from)) archive.Spoil();
    if (archive.Ok()) zone = Zone{std::move(name), offset, std::move(transitions)};
  }
}

// ---- Plans, as trimmed ----

template <class Archive>
void Field(Archive& archive, Stage& stage) {
  archive.Line("stage");
  Field(archive, stage.name);
  Kind(archive, stage.state, WheelState::kHolding);
  Field(archive, stage.first_day);
  Field(archive, stage.last_day);
  Field(archive, stage.temperature_target);
  Field(archive, stage.temperature_band);
  Field(archive, stage.humidity_target);
  Field(archive, stage.humidity_band);
}

template <class Archive>
void Field(Archive& archive, BranchOption& option) {
  archive.Line("option");
  Field(archive, option.name);
  Field(archive, option.stages);
}

template <class Archive>
void Field(Archive& archive, Branch& branch) {
  Field(archive, branch.asked_from);
  Field(archive, branch.default_option);
  Field(archive, branch.options);
}

template <class Archive>
void Field(Archive& archive, Part& part) {
  archive.Line("part");
  Kind(archive, part.start, kLastStartKind);
  Field(archive, part.asked_from);
  Field(archive, part.usual_days);
  Field(archive, part.stages);
  Field(archive, part.branch);
  if (part.stages.empty()) archive.Spoil();
}

template <class Archive>
void Describe(Archive& archive, Plan& plan) {
  archive.Line("plan");
  Field(archive, plan.format);
  Field(archive, plan.id);
  Field(archive, plan.version);
  Field(archive, plan.hardiness);
  Field(archive, plan.parts);
  if (plan.parts.empty()) archive.Spoil();
}

// ---- What the wheels are ----

template <class Archive>
void Field(Archive& archive, StartEvent& start) {
  Field(archive, start.id);
  Kind(archive, start.kind, kLastStartKind);
  Field(archive, start.day);
  Field(archive, start.known_from);
  Field(archive, start.reckoned);
}

template <class Archive>
void Field(Archive& archive, BranchAnswer& answer) {
  Field(archive, answer.id);
  Field(archive, answer.option);
  Field(archive, answer.at);
}

template <class Archive>
void Field(Archive& archive, UndoAct& undo) {
  Field(archive, undo.id);
  Field(archive, undo.of);
  Field(archive, undo.at);
}

template <class Archive>
void Describe(Archive& archive, PlanFrom& from, const Tables& tables) {
  std::size_t index = 0;
  if constexpr (!Archive::kReads) {
    index = static_cast<std::size_t>(std::ranges::find(tables.plans, from.plan) - tables.plans.begin());
  }
  archive.Count(index, tables.plans.size());
  if constexpr (Archive::kReads) {
    if (index >= tables.plans.size()) return archive.Spoil();
    from.plan = tables.plans[index];
  }
  Field(archive, from.from);
  Field(archive, from.id);
}

template <class Archive>
void Describe(Archive& archive, Wheel& wheel, Tables& tables) {
  Field(archive, wheel.cave);
  Field(archive, wheel.weight.value);
  Field(archive, wheel.own_temperature);
  Field(archive, wheel.own_humidity);
  Field(archive, wheel.looked_up);
  Field(archive, wheel.history.entered);
  Field(archive, wheel.history.gone);
  Field(archive, wheel.history.starts);
  Field(archive, wheel.history.branches);
  Field(archive, wheel.history.undos);
  std::size_t plans = wheel.history.plans.size();
  archive.Count(plans, 100'000);
  if constexpr (Archive::kReads) wheel.history.plans.resize(archive.Ok() ? plans : 0);
  for (PlanFrom& from : wheel.history.plans) Describe(archive, from, tables);
}

}  // namespace rindwatch::rules::watch
