// The book as plain text in at most 72 columns, from the API's answers: for the terminal and, later, the mail.
#pragma once

#include <boost/json.hpp>
#include <string>

#include "daemon/words/words.hpp"

namespace rindwatch {

// The morning's list: how things stand, the lines in working order, the caves.
std::string RoundText(const Words& words, const boost::json::object& round, const boost::json::object& caves);
// How things stand now: the sentence, alarms, each cave.
std::string NowText(const Words& words, const boost::json::object& caves);

}  // namespace rindwatch
