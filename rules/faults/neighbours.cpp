#include "rules/faults/neighbours.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace rindwatch::rules {
namespace {

using Shelf = std::pair<CaveId, std::string>;

// The shelf itself and, where the walking order names it, the one before and the one after.
void AddShelfAndNext(const Shelf& shelf, const std::map<CaveId, std::vector<std::string>>& shelves,
                     std::set<Shelf>& into) {
  into.insert(shelf);
  const auto cave = shelves.find(shelf.first);
  if (cave == shelves.end()) return;
  const auto& walked = cave->second;
  const auto here = std::ranges::find(walked, shelf.second);
  if (here == walked.end()) return;
  if (here != walked.begin()) into.emplace(shelf.first, *std::prev(here));
  if (std::next(here) != walked.end()) into.emplace(shelf.first, *std::next(here));
}

}  // namespace

LookAgain WhereToLookAgain(const FaultAdvice& advice, const std::vector<WheelId>& with_fault,
                           const std::vector<LyingWheel>& lying,
                           const std::map<CaveId, std::vector<std::string>>& shelves) {
  LookAgain look;
  std::set<Shelf> near;
  std::set<std::int64_t> lots;
  const std::set<WheelId> faulty(with_fault.begin(), with_fault.end());
  for (const LyingWheel& wheel : lying) {
    if (!faulty.contains(wheel.wheel)) continue;
    AddShelfAndNext({wheel.cave, wheel.shelf}, shelves, near);
    lots.insert(wheel.lot);
  }
  for (const LyingWheel& wheel : lying) {
    if (faulty.contains(wheel.wheel)) {
      look.these.push_back(wheel.wheel);
    } else if (advice.neighbours && near.contains({wheel.cave, wheel.shelf})) {
      look.neighbours.push_back(wheel.wheel);
    } else if (advice.sisters && lots.contains(wheel.lot)) {
      look.sisters.push_back(wheel.wheel);
    }
  }
  return look;
}

}  // namespace rindwatch::rules
