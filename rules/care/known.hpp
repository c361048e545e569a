// What is known of a wheel at an instant: later lines and undone lines are gone, and each id counts once.
#pragma once

#include <array>
#include <vector>

#include "rules/care/history.hpp"

namespace rindwatch::rules {

// Points into the history it was made from and lives no longer. Every list ascends; none depends on the order in which
// the history holds its lines.
struct Known {
  std::vector<const PlanFrom*> plans;
  // The first yes for each kind; null: none yet.
  std::array<const StartEvent*, static_cast<std::size_t>(kLastStartKind) + 1> starts{};
  std::vector<const BranchAnswer*> answers;
  std::vector<const CareAct*> acts;
  std::vector<const AgreedCare*> agreed;
  Instant news = Instant::max();  // the first instant after the asked one at which more is known

  const StartEvent*& StartOf(StartKind kind) { return starts[static_cast<std::size_t>(kind)]; }
  const StartEvent* StartOf(StartKind kind) const { return starts[static_cast<std::size_t>(kind)]; }
};

Known KnownAt(const WheelHistory& wheel, Instant asked);
// All that decides where a wheel stands: no agreed cares, and acts only where a doing of them begins a part.
Known StandingKnownAt(const WheelHistory& wheel, Instant asked);

}  // namespace rindwatch::rules
