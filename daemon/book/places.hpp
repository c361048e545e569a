// "Where does it lie now?": a cave that is there, or one to be made. Shared by the acts that name a place.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// Puts "cave" (its number) and, for new ones, "caves" (the rows, outermost first) into `given`. Throws ActFault.
void GivePlace(const Book& book, const boost::json::object& where, const char* field, boost::json::object& given);

// The number from the door of the first of the line's wheels; the others follow it. `given` holds the place already.
void GiveDoorNumber(const Book& book, const boost::json::object& where, const JournalLine& line,
                    boost::json::object& given);

}  // namespace rindwatch
