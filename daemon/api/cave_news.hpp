// What each place says of itself now: one judgement for the round's head, the caves' head and the morning list, so that
// they name the same places at the same instant. The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/cave_sentence.hpp"
#include "daemon/api/context.hpp"
#include "daemon/api/sentence.hpp"

namespace rindwatch {

// In the order of the caves. Without those that are not watched, or of which an alarm that is told or the place around
// says the same already. One that keeps its band is in it only if a probe of its own says so and no alarm of its air
// stands. After them, on the keeper's day on which it comes to be so: which wheels a place does not suit.
std::vector<CaveNews> NewsOfCaves(const ApiContext& context);

// Whether an alarm stands that calls this air too warm, too cold, too dry or too damp: of the cave itself or, of warmth
// and cold, which reach into it, of what it stands in.
bool IsCalled(const ApiContext& context, const CaveRow& cave, bool of_air, int side);

// Whether its own air had left the band and is back, while the alarm of that waits for it to stay or to come further
// in.
bool HasAirBack(const ApiContext& context, const CaveRow& cave);

// When what drifts leaves its band if it goes on so, to the half hour, the later; none: it does not drift.
std::optional<rules::Instant> OutBy(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel);

// Some probe of its own hangs there.
bool HasOwnProbe(const rules::CaveView& view);

// "Box 1 drifts damp.", "Fridge and Cellar keep their band."; what rings where gas does or there is nothing else to
// say. At least one.
std::vector<Sentence> CavesSentences(const ApiContext& context);

}  // namespace rindwatch
