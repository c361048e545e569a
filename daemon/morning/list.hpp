// The morning list of this house: the facts, gathered from the book, the watch and the round.
#pragma once

#include "daemon/api/context.hpp"
#include "daemon/api/views.hpp"
#include "daemon/morning/facts.hpp"

namespace rindwatch::morning {

List ListOf(const ApiContext& context, const RoundAsk& ask = {});

}  // namespace rindwatch::morning
