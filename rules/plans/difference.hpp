// What differs between two versions of a plan, as facts that a page can put into words: "brush, turn: every 7 days,
// was 14".
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

// The days of a stage within its part.
struct StageDays {
  int first = 0;
  std::optional<int> last;
  bool operator==(const StageDays&) const = default;
};

// The value of a field; monostate: not there.
using PlanValue = std::variant<std::monostate, std::string, int, bool, Figure, StageDays, Cadence, Wash, WheelState,
                               StartKind, std::vector<CareKind>, std::vector<std::string>>;

struct PlanChange {
  // Which field changed. Sources alone are no change.
  enum class Field {
    kFamily,
    kRindWords,
    kRind,  // as text
    kHardiness,
    kReadyDays,  // of the plan or, with `option`, of a road
    kReadyFrom,
    kCautions,   // of the plan, a care
    kPart,       // there or not; value: its start
    kQuestion,   // that begins a part
    kAskedFrom,  // day
    kUsualDays,
    kBranch,  // there or not; value: its question
    kBranchQuestion,
    kBranchAskedFrom,  // day
    kDefaultOption,
    kOption,  // there or not; value: its name
    kStage,   // there or not; value: its days
    kStageName,
    kStageDays,
    kState,
    kCounts,
    kTemperatureTarget,
    kTemperatureBand,
    kHumidityTarget,
    kHumidityBand,
    kCare,  // there or not; value: its cadence
    kCadence,
    kBrings,
    kTolerance,
    kNote,
    kWash
  };
  Field field = Field::kFamily;
  std::size_t part = 0;
  std::string option, stage;    // names; empty: not of one
  std::vector<CareKind> kinds;  // of the care that changed, with what it brings: {brush, turn}
  PlanValue was, is;
};

// In the order of the plan. Stages are told apart by their name, cares by their kinds; what is not found again is one
// that went or came.
std::vector<PlanChange> Differences(const Plan& before, const Plan& after);

}  // namespace rindwatch::rules
