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

#include <string>
#include <string_view>
#include <vector>

#include "daemon/replay/names.hpp"
#include "daemon/replay/replay.hpp"

namespace rindwatch {

// Throws std::runtime_error with sentences: file, line, what was expected, what was found; of a name, which are known.
std::vector<OtherLimits> ReadLimits(std::string_view toml, const std::string& file, const CaveNames& caves);

// What a keeper may keep a cave at.
enum class SpanKind { kTemperature, kHumidity };
// "10-14", or "10 to 14"; low below high. Throws likewise; `place` names the option in the sentence.
rules::Figure SpanOf(const std::string& text, SpanKind kind, const std::string& place);
// "door: act after=30". Throws where nobody knows the setting, or the figure lies outside its bounds.
std::pair<std::string, double> SettingOf(const std::string& text, const std::string& place);

}  // namespace rindwatch
