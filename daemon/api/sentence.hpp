// How things stand, in one or two sentences: on top of the page, in the terminal, as the subject of a mail.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/context.hpp"

namespace rindwatch {

std::string SentenceOf(const ApiContext& context);
// What rings, lasts or is over and not yet seen, a sentence each; of many the first ones, and how many more.
std::vector<std::string> AlarmSentences(const ApiContext& context);
// "07:02" by the keeper's clock on the wall.
std::string TimeWord(const Book& book, rules::Instant at);
// "Tuesday"; "today" and "tomorrow" by their names.
std::string DayWord(const ApiContext& context, rules::Date day);

}  // namespace rindwatch
