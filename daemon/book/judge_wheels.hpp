// What a keeper decides of wheels beside their cares: hold, cut, a lot of their own, a band of their own.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeHold(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeCut(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeSplit(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeBand(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
