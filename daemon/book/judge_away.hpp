// Days on which nobody comes, said before or settled afterwards.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeAway(const Book& book, const boost::json::object& body, JournalLine& line);
// Days without a line: nobody was there, or all was done and not written.
boost::json::object JudgePast(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
