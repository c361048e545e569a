// The morning list of this house: the facts, gathered from the book, the watch and the round.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/api/views.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

// `told_until`: when its reader had been told what was over by then; none: see ToldUntil.
List ListOf(const ApiContext& context, const RoundAsk& ask = {}, std::optional<rules::Instant> told_until = {});

}  // namespace rindwatch::morning
