// The topics that are arriving, with a sample of each, to choose probes from. Filled from the MQTT library's thread,
// read from the loop's.
#pragma once

#include <cstdint>
#include <map>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch {

struct Arrival {
  std::string topic;
  std::string sample;      // first bytes, escaped
  rules::Instant at;       // of the newest
  std::int64_t count = 0;  // since the start
};

class Arrivals {
 public:
  // A busy broker has thousands of topics; a keeper looks through so many at most.
  static constexpr std::size_t kMost = 200;

  void Note(std::string_view topic, std::string_view sample, rules::Instant at);
  std::vector<Arrival> List() const;  // by topic

 private:
  mutable std::mutex mutex_;
  std::map<std::string, Arrival, std::less<>> topics_;
};

}  // namespace rindwatch
