// Probes that are hung up, moved or taken down.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgeProbe(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgeUnhang(const Book& book, const boost::json::object& body, JournalLine& line);

// Out of service, or back in it.
boost::json::object JudgeService(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
