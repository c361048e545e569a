// Which facts follow from a line of the journal: a pure function of its body and what the daemon gave it.
//
//   subject  what      value
//   cave     cave      {kind, name, inside}
//   cave     limits    {temperature: {low, high} or null, humidity: ...}
//   lot      lot       {name, plan}
//   wheel    wheel     {lot, number, grams}
//   wheel    place     {cave or null, shelf}
//   wheel    plan      {plan, version}
//   wheel    start     {start, day, reckoned}
//   wheel    branch    {option}
//   wheel    care      {done, skipped, reason, known}     from: when it was done; known: when it was tapped
//   wheel    gone      {how}
//   probe    probe     {name, topic, format, time_pointer, channels: [{id, kind, pointer, unit}]}
//   probe    hangs     {cave or null}
//   plan     text      {plan, version, text}              the plan as it was when it was first used
//   act      undone    {of, wheels or null}
//   alarm    change    the alarm as it was                of the daemon's own lines
//   alarm    taken, called, aside                         of a keeper's
#pragma once

#include <vector>

#include "daemon/book/line.hpp"

namespace rindwatch {

// The line's body and given part must be what the desk made of them; else throws std::runtime_error with a sentence.
std::vector<Fact> FactsOf(const JournalLine& line);

}  // namespace rindwatch
