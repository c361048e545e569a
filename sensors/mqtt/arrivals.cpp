#include "sensors/mqtt/arrivals.hpp"

namespace rindwatch::sensors {

bool Arrivals::IsDue(std::string_view topic, Time now) {
  const auto known = shown_.find(std::string(topic));
  if (known != shown_.end()) {
    if (now - known->second < kBetween) return false;
    known->second = now;
    return true;
  }
  if (shown_.size() >= kMostTopics) {
    std::erase_if(shown_, [&](const auto& entry) { return now - entry.second >= kBetween; });
    if (shown_.size() >= kMostTopics) return false;
  }
  shown_.emplace(topic, now);
  return true;
}

}  // namespace rindwatch::sensors
