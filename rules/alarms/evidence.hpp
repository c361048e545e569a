// What speaks for too warm, or too cold, besides the distance of the air from its band: excursions that do not turn,
// the wheels' own temperature, the dose they took.
#pragma once

#include "rules/alarms/air.hpp"

namespace rindwatch::rules::watch {

// How its air usually is was learned; until then what leaves its band has left its usual.
bool HasLearned(const Body& body, const Cave& cave);

struct Evidence {
  Severity severity;
  Why why;
  Instant since;
};
// Counts the minute that ends at `at`; `sign` as of a side. None: nothing but the air itself.
std::optional<Evidence> GatherEvidence(Body& body, CaveId id, Cave& cave, int sign, const AirMean& air, Instant at);

}  // namespace rindwatch::rules::watch
