// How things stand as plain text in at most 72 columns, from the API's answers: for the terminal.
#pragma once

#include <boost/json.hpp>
#include <string>

#include "daemon/words/words.hpp"

namespace rindwatch {

// How things stand now: the sentence, alarms, each cave.
std::string NowText(const Words& words, const boost::json::object& caves);

}  // namespace rindwatch
