// Numbers of the rows that the rules speak of. Given by the book, never used twice.
#pragma once

#include <cstdint>

namespace rindwatch::rules {

using CaveId = std::int64_t;
using ProbeId = std::int64_t;
using WheelId = std::int64_t;
using LotId = std::int64_t;

}  // namespace rindwatch::rules
