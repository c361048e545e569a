// A fault that was found at the shelf: marks, agreed cares, whom to look at again, whom to hold.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeFault(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
