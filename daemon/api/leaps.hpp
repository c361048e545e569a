// What the journal tells of a wall clock that went on by far more than time did. The loop's thread.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/clock/leap.hpp"

namespace rindwatch {

// The line that keeps it; its instant is the one to which the clock went.
JournalLine LeapLine(const Leap& leap);
// Of a line of this kind; none: it is of another, or cannot be read.
std::optional<Leap> LeapOf(const JournalLine& line);
// Of the book, which keeps these for longer than other lines; oldest first.
std::vector<Leap> LeapsIn(const Book& book);

// "5 h", rounded to minutes.
std::string LeapSpan(const Words& words, const Leap& leap);
// "From yesterday 15:00 to 15:00 this machine slept, or its clock was set forward by 24 h: ..."
std::string LeapTrouble(const ApiContext& context, const Leap& leap);

}  // namespace rindwatch
