// From verdicts to the lines of a wheel: "wash with turn" is one line while the wash is on the round.
#pragma once

#include <vector>

#include "rules/care/items.hpp"

namespace rindwatch::rules {

std::vector<CareLine> LinesOf(const Ground& ground, const std::vector<Item>& items);

// What the stage before left behind and nobody will ask for again: named on the first day of the segment.
std::vector<CareLine> LeftBehind(const Ground& ground, std::size_t index);
// Every once care of the segments before that ended undone.
std::vector<CareLine> NotDoneBefore(const Ground& ground, std::size_t index);

CareLine LineOf(const Pending& pending, const Item& item);

}  // namespace rindwatch::rules
