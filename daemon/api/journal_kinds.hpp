// What a line of the journal tells beyond its head, by kind: what the page needs to say it, and no more.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// Of the kinds that say something of wheels, plans or the house; `body` and `given` are the line's own.
void AddKind(const Book& book, const JournalLine& line, const boost::json::object& body,
             const boost::json::object& given, boost::json::object& into);

}  // namespace rindwatch
