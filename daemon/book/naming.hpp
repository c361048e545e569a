// What an act names must be in the book. Each fills in the line and throws ActFault.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// The wheels of "wheels", at least one; the line's cave is the first one's.
void NameWheels(const Book& book, const boost::json::object& body, JournalLine& line);
// The cave of "cave".
const CaveRow& NameCave(const Book& book, const boost::json::object& body, JournalLine& line);
// Caves, in their order.
std::vector<rules::CaveId> NameCaves(const Book& book, const boost::json::object& body, const char* field);
// A span {low, high} between two figures, or none.
void CheckSpan(const boost::json::object& body, const char* name, double least, double most);

}  // namespace rindwatch
