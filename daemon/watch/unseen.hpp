// What stands by the journal and not by the rules of now, as after an update of them: nobody else would ever end it.
#pragma once

#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Whether the rules of now decided since the last start that the book remembers.
bool DecidedByTheseRules(const Book& book);
// What the rules of now would have decided in the time of others, and that matters to nothing which lasts: it is no
// news, and written now it would tell of days that are over. Kept is what belongs to an alarm that stands, or that
// waits to be seen and that the book does not know to be over.
void DropWhatIsPast(const Book& book, const rules::EngineState& engine, std::vector<rules::Decision>& decided);

// Whether the journal does not know it to be over.
bool StandsInBook(const Book& book, const std::string& alarm);

// The ends of what the book holds to stand and the engine does not, at `now`; `decided`: what the engine decided and
// the book has not taken in. What the engine sees too, since another time, is told by that one from now on.
std::vector<rules::Decision> EndsOfUnseen(const Book& book, const rules::EngineState& engine,
                                          const std::vector<rules::Decision>& decided, rules::Instant now);

// What these rules raised and the journal does not know, in the place of what a keeper took and what lasted at that
// time: it goes on taken, for nothing but its date is new. Not what is graver now than what was taken.
struct Follow {
  std::string alarm, before;  // what stands by the rules of now; by which name it was taken
  std::string keeper;         // who took it; empty: one keeps alone
};
std::vector<Follow> TakingsThatFollow(const Book& book, const rules::EngineState& engine);

}  // namespace rindwatch
