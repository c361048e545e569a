// Answers to the questions of the round: a start that was seen, a road that is taken.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// `line` names the wheels already.
boost::json::object JudgeAnswer(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
