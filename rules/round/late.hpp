// What to say at a line beside its care: what to look at first after so long, and a cadence that changes.
#pragma once

#include <optional>
#include <vector>

#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

// Stored nowhere; by their text in the API.
enum class LookFirst { kSlimy, kStuck, kDry, kDusty, kSoft };
std::string_view ToText(LookFirst look);

// Empty unless the line is late: by the rind and by how many days its due day lies behind (common practice, no source).
std::vector<LookFirst> LookFirstAt(const Standing& standing, const CareLine& line, Date day);

struct NewCadence {
  Cadence cadence;
  bool from_tomorrow = false;  // else it holds since today
};
// Said once: on the last day of a stage whose successor asks the leading care in another cadence, or on the
// successor's first day.
std::optional<NewCadence> NewCadenceAt(const Standing& standing, const CareLine& line);

// The stage of the same road that holds the day of the part; null if there is none.
const Stage* StageOnDay(const Standing& standing, int day);

}  // namespace rindwatch::rules
