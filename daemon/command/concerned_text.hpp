// Which wheels an alarm comes to and when, for the terminal: from the API's own answer.
#pragma once

#include <boost/json/object.hpp>
#include <string>
#include <vector>

#include "daemon/words/words.hpp"
#include "rules/time.hpp"

namespace rindwatch {

// "It matters to:", of a power cut "If nothing cools there, it matters to:", or of which nothing is foreseen "Wheels:",
// then "6 bloomies, Box 1: in 1 h 45 to 2 h 45" for each kind of them; empty: it touches none. `told`: an alarm of the
// API.
std::vector<std::string> ConcernedText(const Words& words, const boost::json::object& told, rules::LocalTime now);

}  // namespace rindwatch
