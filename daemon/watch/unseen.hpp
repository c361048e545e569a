// What stands by the journal and not by the rules of now, as after an update of them: nobody else would ever end it.
#pragma once

#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Whether the journal does not know it to be over.
bool StandsInBook(const Book& book, const std::string& alarm);

// The ends of what the book holds to stand and the engine does not, at `now`; `decided`: what the engine decided and
// the book has not taken in. What the engine sees too, since another time, is told by that one from now on.
std::vector<rules::Decision> EndsOfUnseen(const Book& book, const rules::EngineState& engine,
                                          const std::vector<rules::Decision>& decided, rules::Instant now);

}  // namespace rindwatch
