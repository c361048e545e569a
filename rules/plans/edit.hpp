// What a keeper changes in a plan, and what differs between two versions: values, for a page or a command to make and
// to tell. A new version never touches the old one.
#pragma once

#include <span>
#include <string>
#include <variant>
#include <vector>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// Where in a plan: a stage of a part or, along a branch, of one of its options, and a care of that stage. Counted from
// 0 in the order of the plan.
struct PlanPlace {
  std::size_t part = 0;
  std::string option;  // the name of the road; empty: the stages that all roads share
  std::size_t stage = 0;
  std::optional<std::size_t> care;  // none: the stage itself
  bool operator==(const PlanPlace&) const = default;
};

struct PlanSpan {
  double low = 0, high = 0;
  bool operator==(const PlanSpan&) const = default;
};

// Only what is named changes.
struct PlanSetting {
  std::optional<PlanSpan> temperature_target, temperature_band;  // degrees Celsius; of a stage
  std::optional<PlanSpan> humidity_target, humidity_band;        // percent; of a stage
  std::optional<int> last_day;     // of a stage; the stage after it begins on the next day
  std::optional<Cadence> cadence;  // of a care
  std::optional<int> tolerance;    // whole days; of a care
  std::optional<std::string> note;
  std::optional<PlanSpan> salt;   // grams in 100 g of the wash; of a care that washes
  std::optional<PlanSpan> ready;  // days; the window of the road that the place names, else of the plan
  bool operator==(const PlanSetting&) const = default;
};

// A care more, after those of its stage.
struct PlanAddition {
  std::vector<CareKind> kinds, brings;
  Cadence cadence;
  std::optional<PlanSpan> salt{};  // grams in 100 g, of a wash
  bool operator==(const PlanAddition&) const = default;
};

// One change. Exactly one of `set`, `add` and `remove`.
struct PlanEdit {
  PlanPlace place;
  std::optional<PlanSetting> set;
  std::optional<PlanAddition> add;
  bool remove = false;  // the care, or the stage: the one before it lasts as long, or the one after it begins as early
  std::string why;      // becomes the source of what is changed; empty: "the keeper's own choice"
  bool operator==(const PlanEdit&) const = default;
};

// The plan with all the changes, one after the other, each meaning the plan as the ones before it left it; or what is
// wrong, with the number of the edit as field ("edits[1].set.tolerance") or the field of the plan that would not be
// sound. The version stays: who keeps the result gives it the next.
std::variant<Plan, std::vector<PlanFault>> Apply(const Plan& plan, std::span<const PlanEdit> edits);

}  // namespace rindwatch::rules
