// Other limits for a replay, as a keeper writes them down:
//
//   format = 1
//   [[cave]]
//   name = "Fridge"                          # left out: every cave
//   temperature = { low = 10, high = 14 }    # left out: as it was
//   humidity = { low = 80, high = 92 }
//   off = ["too damp"]                       # kinds that are not judged
//   settings = { "door: act after" = 30 }
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "daemon/replay/replay.hpp"

namespace rindwatch {

using CaveNamed = std::function<std::optional<rules::CaveId>(const std::string& name)>;

// Throws std::runtime_error with one sentence: file, line, what was expected, what was found.
std::vector<OtherLimits> ReadLimits(std::string_view toml, const std::string& file, const CaveNamed& cave_named);
// "10-14", or "10 to 14"; low below high. Throws likewise; `what` names it in the sentence.
rules::Figure SpanOf(const std::string& text, const std::string& what);
// "door: act after=30". Throws where nobody knows the setting, or the figure lies outside its bounds.
std::pair<std::string, double> SettingOf(const std::string& text);

}  // namespace rindwatch
