#include <algorithm>
#include <utility>

#include "rules/care/lines.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

bool IsOnceCare(const Care& care) { return std::holds_alternative<OnceOnDay>(care.cadence); }

bool Has(const Stage& stage, CareKind kind) {
  return std::ranges::any_of(
      stage.cares, [&](const Care& care) { return Contains(care.kinds, kind) || Contains(care.brings, kind); });
}

// It is the same care in the next segment still.
bool GoesOn(const Ground& ground, std::size_t index, const Item& item) {
  return RunOf(ground, index, *item.care).last > ground.timeline.Segments()[index].last;
}

bool WasOnRound(const Item& item) { return item.verdict.pending && item.verdict.pending->OnRound(); }

CareLine NotDoneLine(const Item& item) {
  CareLine line = LineOf(*item.verdict.pending, item);
  line.state = CareState::kNotDone;
  return line;
}

bool IsNamed(const std::vector<CareLine>& named, CareKind kind) {
  return std::ranges::any_of(named, [&](const CareLine& line) { return Contains(line.kinds, kind); });
}

// The kind that was asked and what it would have brought, as far as the next stage has them no more: of alternate kinds
// one may go on without the other, and a wash without its turn.
std::vector<CareKind> RetiredKinds(const Item& item, const Stage& next, const std::vector<CareLine>& named) {
  std::vector<CareKind> kinds{item.verdict.pending->kind};
  if (item.brings) kinds.insert(kinds.end(), item.brings->begin(), item.brings->end());
  std::erase_if(kinds, [&](CareKind kind) { return Has(next, kind) || IsNamed(named, kind); });
  return kinds;
}

CareLine RetiredLine(const Item& item, std::vector<CareKind> kinds) {
  CareLine line = LineOf(*item.verdict.pending, item);
  line.state = CareState::kRetired;
  line.kinds = std::move(kinds);
  return line;
}

}  // namespace

std::vector<CareLine> LeftBehind(const Ground& ground, std::size_t index) {
  std::vector<CareLine> named;
  if (index == 0) return named;
  const Segment& before = ground.timeline.Segments()[index - 1];
  const Stage& next = *ground.timeline.Segments()[index].stage;
  for (const Item& item : ItemsOf(ground, index - 1, ground.EndOf(before.last))) {
    if (!WasOnRound(item)) continue;
    if (IsOnceCare(*item.care)) {
      if (!GoesOn(ground, index - 1, item)) named.push_back(NotDoneLine(item));
    } else if (std::vector<CareKind> kinds = RetiredKinds(item, next, named); !kinds.empty()) {
      named.push_back(RetiredLine(item, std::move(kinds)));
    }
  }
  return named;
}

std::vector<CareLine> NotDoneBefore(const Ground& ground, std::size_t index) {
  std::vector<CareLine> not_done;
  for (std::size_t i = 0; i < index; ++i) {
    const Segment& segment = ground.timeline.Segments()[i];
    if (std::ranges::none_of(segment.stage->cares, IsOnceCare)) continue;
    for (const Item& item : ItemsOf(ground, i, ground.EndOf(segment.last))) {
      if (IsOnceCare(*item.care) && WasOnRound(item) && !GoesOn(ground, i, item)) not_done.push_back(NotDoneLine(item));
    }
  }
  return not_done;
}

}  // namespace rindwatch::rules
