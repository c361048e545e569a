// The weeks behind a trial: an invented place and its keepers lived on a stepped clock, through the same intake, store,
// watch and handlers as the real ones.
#pragma once

#include <cstdint>

#include "daemon/clock/clocks.hpp"
#include "daemon/config/config.hpp"
#include "daemon/house/house.hpp"
#include "daemon/simulate/past.hpp"

namespace rindwatch {

struct PastOptions {
  std::uint64_t seed = 20;  // equal seeds, equal pasts
  bool farm = false;        // where it plays
  bool careless = false;    // the keepers forget, do in part and write things down late
  bool mishaps = false;     // what befalls the place by chance
};

// The place as it stood `past` before `now`.
LivedFridge PlaceBefore(const PastOptions& options, rules::Instant now, std::chrono::seconds past,
                        const rules::Zone& zone);

// Lives from where the clock stands until `now`, which counts to the whole second; the place as it stands then. The
// house's watch has begun. Throws what keeps the past from being written.
LivedFridge LiveThePast(House& house, TrialClock& clock, const PastOptions& options, rules::Instant now,
                        const Config& config);

}  // namespace rindwatch
