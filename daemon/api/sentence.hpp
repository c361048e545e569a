// How things stand, in one or two sentences: on top of the page, in the terminal, as the subject of a mail.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/context.hpp"

namespace rindwatch {

std::string SentenceOf(const ApiContext& context);
// What of it is neither an alarm nor the work that is left: what gas bars, and which places drift, have left their band
// or are unknown; why they are where one is alone. Empty: none of it.
std::string BesidesOf(const ApiContext& context);
struct Sentence {
  std::string text;
  std::string alarm{};  // the alarm that it tells; empty: it tells none alone
};

// What rings, lasts or is over and not yet seen, a sentence each; of many the first ones, and how many more. What can
// wait is not among them.
std::vector<Sentence> AlarmSentences(const ApiContext& context);
// Of what can wait.
std::vector<Sentence> SmallSentences(const ApiContext& context);
// "07:02" by the keeper's clock on the wall.
std::string TimeWord(const Book& book, rules::Instant at);
// "04:20", "yesterday 22:10", and of another day "Saturday 28 November 10:45".
std::string SinceWord(const ApiContext& context, rules::Instant at);
// That the machine's clock is behind what is kept, until when, and what to do. Only while it is.
std::string ClockTrouble(const ApiContext& context);
// And when the watch goes on.
std::string ClockTroubleMore(const ApiContext& context);
// Whether it was said by a clock that was ahead: no hour of it is told.
bool HasNotCome(const ApiContext& context, rules::Instant at);
// "Tuesday"; "today" and "tomorrow" by their names.
std::string DayWord(const ApiContext& context, rules::Date day);

}  // namespace rindwatch
