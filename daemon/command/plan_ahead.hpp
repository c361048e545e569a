// What a new version of a plan would do to the wheels that are to follow it: their next days before and after.
#pragma once

#include <boost/json.hpp>
#include <cstdint>
#include <string>
#include <vector>

#include "daemon/config/config.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch {

// One wheel of GET /api/wheels, and the preview of the plan for it.
struct WheelAhead {
  boost::json::object wheel, preview;
};

// Wheels that read alike stand once. Says before them which follow another plan now than `plan_id`.
std::string AheadWords(const Words& words, const std::vector<WheelAhead>& wheels, const std::string& plan_id,
                       const std::string& family);

// Asks for the preview of each. Throws std::runtime_error with one sentence where there is no such wheel.
std::vector<WheelAhead> AskAhead(const Config& config, const std::string& plan_id, int version, const std::string& text,
                                 const std::vector<std::int64_t>& wheels);

}  // namespace rindwatch
