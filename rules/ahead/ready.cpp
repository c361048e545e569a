#include "rules/ahead/ready.hpp"

#include <algorithm>
#include <cmath>

#include "rules/care/known.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

int WholeDays(double figure) { return static_cast<int>(std::lround(figure)); }

// The first and the last day on which a start event can be.
struct StartDays {
  Date low, high;
};

StartDays StartOf(const Plan& plan, const Known& known, StartKind kind, Date made, Date today) {
  StartDays start{made, made};
  for (const Part& part : plan.parts) {
    if (&part != &plan.parts.front()) {
      if (const StartEvent* named = known.StartOf(part.start)) {
        start = {named->day, named->day};
      } else {
        const int low = part.usual_days ? WholeDays(part.usual_days->low) : 0;
        const int high = part.usual_days ? WholeDays(part.usual_days->high) : 0;
        start = {std::max(start.low + days{low}, today), std::max(start.high + days{high}, today)};
      }
    }
    if (part.start == kind) return start;
  }
  return start;
}

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

// The road that ends early has a window of its own and is not the one that is taken by default.
const BranchOption* YoungRoad(const Branch& branch) {
  for (const BranchOption& option : branch.options) {
    if (option.ready_days && option.name != branch.default_option) return &option;
  }
  return nullptr;
}

const Figure* ReadyOn(const Plan& plan, const BranchOption* road) {
  if (road && road->ready_days) return &*road->ready_days;
  return plan.ready_days ? &*plan.ready_days : nullptr;
}

}  // namespace

std::vector<ReadyWindow> ReadyWindowsOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  std::vector<ReadyWindow> windows;
  const Standing standing = StandingAt(wheel, calendar, asked);
  if (!standing.plan) return windows;
  const Known known = StandingKnownAt(wheel, asked);
  const Plan& plan = *standing.plan;
  const StartEvent* made = known.StartOf(plan.parts.front().start);
  if (!made) return windows;
  const StartDays start = StartOf(plan, known, plan.ready_from, made->day, calendar.turn.DayOf(asked));
  const Branch* const branch = BranchOf(plan);
  const BranchOption* const young = branch ? YoungRoad(*branch) : nullptr;
  const std::string answered = known.answers.empty() ? std::string{} : known.answers.back()->option;
  const BranchOption* road = branch ? OptionNamed(*branch, answered) : nullptr;
  const bool open = road == nullptr;
  if (branch && open) road = OptionNamed(*branch, branch->default_option);
  if (const Figure* ready = ReadyOn(plan, road)) {
    windows.push_back(WindowFrom(start, *ready, young && road == young));
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
  const BranchOption* const young = branch ? YoungRoad(*branch) : nullptr;
  if (make.possible || !young) return make;
  const UsualDays usual = UsualDaysTo(plan, plan.ready_from);
  const ReadyWindow early = WindowFrom({wanted + days{usual.low}, wanted + days{usual.high}}, *young->ready_days, true);
  const MakeWindow instead = back_from(early.from, early.to, true);
  return instead.possible ? instead : make;
}

}  // namespace rindwatch::rules
