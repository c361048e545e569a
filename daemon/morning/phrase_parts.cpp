#include "daemon/morning/phrase_parts.hpp"

namespace rindwatch::morning {

std::string SinceWords(const Words& words, const Alarm& alarm) {
  return MomentWords(words, alarm.since, alarm.since + alarm.lasts);
}

std::string Join(const std::vector<std::string>& parts, std::string_view between) {
  std::string text;
  for (const std::string& part : parts) {
    if (part.empty()) continue;
    if (!text.empty()) text += between;
    text += part;
  }
  return text;
}

std::string Opening(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace rindwatch::morning
