// What the plans want of a cave's air, beside the band in force: the target that all its wheels share, else whose
// target the band does not hold. The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

struct Wanted {
  // What all that have one want, and the band in force holds; none: they want different things, or the band is
  // narrower.
  std::optional<rules::Figure> target;
  struct Beyond {
    rules::Figure target;
    std::vector<rules::WheelId> wheels;
  };
  // Else whose target the band does not hold, without those whom the whole band does not suit.
  std::vector<Beyond> beyond;
};

// Whether the band in force holds what the rules know of the target; where there is no band, what there is of it.
bool HoldsTarget(const rules::ChannelView& channel);
// `channel` is one of `view`.
Wanted WantedOf(const Book& book, const CaveRow& cave, const rules::CaveView& view, const rules::ChannelView& channel,
                rules::Instant now);

}  // namespace rindwatch
