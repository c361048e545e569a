// Other limits for a replay, as a keeper writes them down:
//
//   format = 1
//   [[cave]]
//   name = "Fridge"                          # left out: every cave
//   temperature = { low = 10, high = 14 }    # left out: as it was
//   humidity = { low = 80, high = 92 }
//   of_wheels = ["humidity"]                 # the wheels' own band again, whatever was typed for the cave
//   off = ["too damp"]                       # kinds that are not judged
//   judged = ["too dry"]                     # kinds that are judged again
//   settings = { "door: act after" = 30 }
//   ready_cheese = true                      # finished cheese, kept cold; false: no longer
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
// "temperature" or "humidity"; throws likewise.
SpanKind ChannelNamed(const std::string& name, const std::string& place);
void PutOfWheels(SpanKind channel, OtherLimits& other);
// "10-14", or "10 to 14"; low below high. Throws likewise; `place` names the option in the sentence.
rules::Figure SpanOf(const std::string& text, SpanKind kind, const std::string& place);
// "door: act after=30". Throws where nobody knows the setting, or the figure lies outside its bounds.
std::pair<std::string, double> SettingOf(const std::string& text, const std::string& place);

// Throws where two things that are tried speak against each other: a span and the wheels' own band of one channel, a
// kind that is both judged and not.
void CheckSound(const OtherLimits& other, const std::string& place);

}  // namespace rindwatch
