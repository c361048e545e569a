#include "daemon/house/set_back.hpp"

#include <algorithm>

#include "daemon/clock/clocks.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch {

std::optional<rules::Instant> SetBackIfAhead(Store& store, rules::Instant now) {
  rules::Instant until = now;
  if (const auto last = store.ReadLast()) until = std::max(until, last->at);
  // It may have gone on without any input.
  if (const auto state = store.ReadSnapshot(rules::kRulesVersion)) until = std::max(until, state->at);
  if (until <= now + kClockSlack) return std::nullopt;
  store.SetBack(now);
  return until;
}

}  // namespace rindwatch
