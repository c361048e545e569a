#include "sensors/invalid_log.hpp"

#include "sensors/first_bytes.hpp"

namespace rindwatch::sensors {
namespace {

constexpr std::string_view kOthers = "(other topics)";

std::string LineFor(std::string_view topic, std::string_view first_bytes, std::string_view why, std::int64_t unsaid) {
  std::string line = "topic \"" + FirstBytes(topic, 200) + "\": " + std::string(why) + " (payload \"" +
                     std::string(first_bytes) + "\")";
  if (unsaid > 0) line += "; " + std::to_string(unsaid) + " more since the last line about it";
  return line;
}

}  // namespace

std::optional<std::string> InvalidLog::Count(std::string_view topic, std::string_view first_bytes, std::string_view why,
                                             rules::Millis now) {
  ++total_;
  auto known = topics_.find(topic);
  const bool first = known == topics_.end();
  if (first) {
    // One place is left for all topics that no longer find one of their own.
    const auto name = topics_.size() + 1 < kMostTopics ? topic : kOthers;
    known = topics_.try_emplace(std::string(name)).first;
  }
  Topic& entry = known->second;
  const bool is_new = entry.count == 0;
  ++entry.count;
  entry.first_bytes = first_bytes;
  entry.why = why;
  if (!is_new && now - entry.last_line < kBetweenLines) {
    ++entry.since_line;
    return std::nullopt;
  }
  auto line = LineFor(topic, first_bytes, why, entry.since_line);
  entry.since_line = 0;
  entry.last_line = now;
  return line;
}

}  // namespace rindwatch::sensors
