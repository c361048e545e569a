// Lets each topic be shown as arriving once a second, so that a busy broker does not drown the page. One thread at a
// time; bounded.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>
#include <string_view>
#include <unordered_map>

namespace rindwatch::sensors {

class Arrivals {
 public:
  using Time = std::chrono::steady_clock::time_point;
  static constexpr std::chrono::milliseconds kBetween{1000};
  static constexpr std::size_t kMostTopics = 500;  // within one such span; further topics wait for the next

  bool IsDue(std::string_view topic, Time now);

 private:
  std::unordered_map<std::string, Time> shown_;
};

}  // namespace rindwatch::sensors
