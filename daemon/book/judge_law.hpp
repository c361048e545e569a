// The second clock of a wheel: the rule that it must meet, days that a keeper stands for, and letting it go.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/beside.hpp"
#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeRule(const Book& book, const boost::json::object& body, JournalLine& line);
// `beside` holds the qualifying age of each named wheel that has a rule.
boost::json::object JudgeVouch(const Book& book, const boost::json::object& body, JournalLine& line,
                               const Beside& beside);
boost::json::object JudgeRelease(const Book& book, const boost::json::object& body, JournalLine& line,
                                 const Beside& beside);

}  // namespace rindwatch
