// Wheels that lead one life: what comes is worked out once for all of them. Points into the book, good until the next
// fact is taken in.
#pragma once

#include <vector>

#include "daemon/book/book.hpp"

namespace rindwatch {

struct Life {
  const CaveRow* cave = nullptr;        // null: lies nowhere of ours
  std::vector<const WheelRow*> wheels;  // at least one; alike in everything that care asks about
  const WheelRow& First() const { return *wheels.front(); }
};

// Of the wheels that are not gone, in the order in which the first of each came.
std::vector<Life> LivesOf(const Book& book);

}  // namespace rindwatch
