// Wheels that enter the book: "What is ripening?"
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeEnter(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
