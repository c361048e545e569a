// What a keeper decides of the house as a whole: order of walking, care days, who keeps it, who takes which part of a
// round, the calendar's address.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/beside.hpp"
#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeOrder(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeCalendar(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeShare(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeKeeper(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeFeed(const Book& book, const boost::json::object& body, JournalLine& line,
                              const Beside& beside);

}  // namespace rindwatch
