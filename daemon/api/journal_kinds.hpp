// What a line of the journal tells beyond its head, by kind: what the page needs to say it, and no more.
#pragma once

#include <boost/json.hpp>

#include "daemon/api/context.hpp"
#include "daemon/book/book.hpp"

namespace rindwatch {

// Of the kinds that say something of wheels, plans or the house; `body` and `given` are the line's own.
void AddKind(const Book& book, const JournalLine& line, const boost::json::object& body,
             const boost::json::object& given, boost::json::object& into);

// What the watch itself wrote by a clock that was ahead, of an hour that had not come: no row tells of it. What a
// keeper did then stays, with its wrong time.
bool IsToCome(const ApiContext& context, const JournalLine& line);

}  // namespace rindwatch
