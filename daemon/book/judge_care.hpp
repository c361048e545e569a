// Cares that were done or skipped, what follows from them, and which plans they were done under.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeCare(const Book& book, const boost::json::object& body, JournalLine& line);

// "under": which version of which plan each of the line's wheels follows at the line's instant.
void GiveVersions(const Book& book, const JournalLine& line, boost::json::object& given);

}  // namespace rindwatch
