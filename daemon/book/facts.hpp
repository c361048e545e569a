// Which facts follow from a line of the journal: a pure function of its body and what the daemon gave it.
//
//   subject  what       value
//   cave     cave       {kind, name, inside}
//   cave     limits     {temperature: {low, high} or null, humidity: ...}
//   cave     watching   {settings: {id: value}, off: [kind of alarm], ready_cheese}
//   cave     shelves    {shelves}                      in walking order
//   cave     care days  {days}                         1 Monday to 7 Sunday
//   lot      lot        {name, plan}                   split_off: a keeper took it off another
//   wheel    wheel      {lot, number, grams}
//   wheel    lot        {lot}                          of a wheel that was split off
//   wheel    place      {cave or null, shelf, number}  number: from the door
//   wheel    plan       {plan, version}
//   wheel    start      {start, day, reckoned}
//   wheel    branch     {option}
//   wheel    care       {done, skipped, reason, known, plan, version}
//                       from: when it was done; known: when it was tapped; plan, version: that it was done under
//   wheel    weighed    {grams}
//   wheel    gone       {how, to if it was said}
//   wheel    hold       {held, why}
//   wheel    cut        {left, how}
//   wheel    band       {temperature: {low, high} or null, humidity: ...}
//   wheel    mark       {what or null, look_again}     null: a look found that all of it is gone
//   wheel    agreed     {kind, day, stands_for}        at a fault
//   wheel    rule       {rule or null}                 of qualifying age
//   wheel    vouch      {from, to, name, reason}
//   wheel    release    {override: {name, reason} or null}
//   probe    probe      {name, topic, format, time_pointer, channels: [{id, kind, pointer, unit}]}
//   probe    hangs      {cave or null}
//   probe    service    {out, why}                     out: it hangs there and is not judged
//   plan     text       {plan, version, text}          as it was when it was made or first used
//   house    order      {caves, by_room}
//   house    away       {from, back, caves or null}
//   house    keeper     {name, leaves}
//   house    share      {day, by, caves, lines}
//   house    feed       {open, secret}
//   house    hearing    {name, leaves} or all that hearing.hpp has
//   act      undone     {of, wheels or null}
//   alarm    change     the alarm as it was            of the daemon's own lines
//   alarm    taken, called, aside                      of a keeper's
#pragma once

#include <vector>

#include "daemon/book/line.hpp"

namespace rindwatch {

// The line's body and given part must be what the desk made of them; else throws std::runtime_error with a sentence.
std::vector<Fact> FactsOf(const JournalLine& line);

}  // namespace rindwatch
