#include "rules/ahead/ready.hpp"

#include <algorithm>
#include <cmath>

#include "rules/ahead/way.hpp"
#include "rules/care/known.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

int WholeDays(double figure) { return static_cast<int>(std::lround(figure)); }

// The first and the last day of what a window is counted from.
struct StartDays {
  Date low, high;
};

ReadyWindow WindowFrom(const StartDays& start, const Figure& ready, bool young) {
  return {start.low + days{WholeDays(ready.low)}, start.high + days{WholeDays(ready.high)}, young};
}

const Branch* BranchOf(const Plan& plan) {
  for (const Part& part : plan.parts) {
    if (part.branch) return &*part.branch;
  }
  return nullptr;
}

const BranchOption* OptionNamed(const Branch& branch, const std::string& name) {
  const auto found = std::ranges::find(branch.options, name, &BranchOption::name);
  return found == branch.options.end() ? nullptr : &*found;
}

const Figure* ReadyOn(const Plan& plan, const BranchOption* road) {
  if (road && road->ready_days) return &*road->ready_days;
  return plan.ready_days ? &*plan.ready_days : nullptr;
}

// The road whose window opens before that of the one taken by default.
const BranchOption* YoungRoad(const Plan& plan, const Branch& branch) {
  const Figure* usual = ReadyOn(plan, OptionNamed(branch, branch.default_option));
  for (const BranchOption& option : branch.options) {
    if (option.ready_days && usual && option.ready_days->low < usual->low) return &option;
  }
  return nullptr;
}

// The road that the keeper chose; null: not yet.
const BranchOption* Chosen(const Branch& branch, const Known& known) {
  const BranchOption* chosen = nullptr;
  for (const BranchAnswer* answer : known.answers) {
    if (const BranchOption* option = OptionNamed(branch, answer->option)) chosen = option;
  }
  return chosen;
}

}  // namespace

std::vector<ReadyWindow> ReadyWindowsOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  std::vector<ReadyWindow> windows;
  const Standing standing = StandingAt(wheel, calendar, asked);
  if (!standing.plan) return windows;
  const Plan& plan = *standing.plan;
  const auto day_zero = DayZeroOf(wheel, calendar, asked, plan.ready_from);
  if (!day_zero) return windows;
  const StartDays start{*day_zero, *day_zero};
  const Branch* const branch = BranchOf(plan);
  const BranchOption* const young = branch ? YoungRoad(plan, *branch) : nullptr;
  const BranchOption* road = branch ? Chosen(*branch, StandingKnownAt(wheel, asked)) : nullptr;
  const bool open = road == nullptr;
  if (branch && open) road = OptionNamed(*branch, branch->default_option);
  if (const Figure* ready = ReadyOn(plan, road)) {
    windows.push_back(WindowFrom(start, *ready, young != nullptr && road == young));
  }
  if (young && open) windows.push_back(WindowFrom(start, *young->ready_days, true));
  return windows;
}

UsualDays UsualDaysTo(const Plan& plan, StartKind start) {
  UsualDays usual;
  for (const Part& part : plan.parts) {
    if (&part != &plan.parts.front() && part.usual_days) {
      usual.low += WholeDays(part.usual_days->low);
      usual.high += WholeDays(part.usual_days->high);
    }
    if (part.start == start) break;
  }
  return usual;
}

std::optional<ReadyWindow> UsualReadyWindow(const Plan& plan, Date made) {
  const Branch* const branch = BranchOf(plan);
  const Figure* ready = ReadyOn(plan, branch ? OptionNamed(*branch, branch->default_option) : nullptr);
  if (!ready) return std::nullopt;
  const UsualDays usual = UsualDaysTo(plan, plan.ready_from);
  return WindowFrom({made + days{usual.low}, made + days{usual.high}}, *ready, false);
}

std::optional<MakeWindow> MakeWindowFor(const Plan& plan, Date wanted, Date today) {
  const auto window = UsualReadyWindow(plan, wanted);
  if (!window) return std::nullopt;
  const auto back_from = [&](Date from, Date to, bool young) {
    const Date last = wanted - (from - wanted);
    return MakeWindow{wanted - (to - wanted), last, young, last >= today};
  };
  const MakeWindow make = back_from(window->from, window->to, false);
  const Branch* const branch = BranchOf(plan);
  const BranchOption* const young = branch ? YoungRoad(plan, *branch) : nullptr;
  if (make.possible || !young) return make;
  const UsualDays usual = UsualDaysTo(plan, plan.ready_from);
  const ReadyWindow early = WindowFrom({wanted + days{usual.low}, wanted + days{usual.high}}, *young->ready_days, true);
  const MakeWindow instead = back_from(early.from, early.to, true);
  return instead.possible ? instead : make;
}

}  // namespace rindwatch::rules
