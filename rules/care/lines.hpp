// From verdicts to the lines of a wheel: "wash with turn" is one line while the wash is on the round.
#pragma once

#include <vector>

#include "rules/care/schedule.hpp"
#include "rules/care/verdict.hpp"

namespace rindwatch::rules {

// A care with its verdict, before lines are brought together.
struct Item {
  const Care* care = nullptr;  // null: agreed at a fault, of a kind that the stage does not have
  std::vector<CareKind> kinds;
  std::vector<CareKind> brings;
  Verdict verdict;
  bool agreed = false;
  std::optional<CareKind> stands_for;
};

// The cares of a segment in the plan's order; kinds that only come together have a verdict without a pending care.
std::vector<Item> ItemsOf(const Ground& ground, std::size_t index, const Moment& moment);
std::vector<Item> AgreedItems(const Ground& ground, const std::vector<Item>& stage);
std::vector<CareLine> LinesOf(const Ground& ground, const std::vector<Item>& items);

// What the stage before left behind and nobody will ask for again: named on the first day of the segment.
std::vector<CareLine> LeftBehind(const Ground& ground, std::size_t index);
// Every once care of the segments before that ended undone.
std::vector<CareLine> NotDoneBefore(const Ground& ground, std::size_t index);

CareLine LineOf(const Pending& pending, const Item& item);

}  // namespace rindwatch::rules
