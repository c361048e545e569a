// How a keeper has a cave watched: limits and delays of its own, kinds of alarm that are not judged there, a place of
// finished cheese.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

// The body tells the whole of it; what it leaves out is as usual.
boost::json::object JudgeWatching(const Book& book, const boost::json::object& body, JournalLine& line);
// What the desk has let through.
CaveWatching WatchingFrom(const boost::json::object& value);

}  // namespace rindwatch
