// Counts invalid payloads per topic and says which of them is worth a line in the log: one a topic an hour.
// Whoever listens owns it; one thread. Bounded: topics beyond the bound are counted together.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "rules/time.hpp"

namespace rindwatch::sensors {

class InvalidLog {
 public:
  static constexpr rules::Millis kBetweenLines{3'600'000};
  static constexpr std::size_t kMostTopics = 1000;

  struct Topic {
    std::int64_t count = 0;
    rules::Millis last_line{0};   // monotonic
    std::int64_t since_line = 0;  // counted after the last line
    std::string first_bytes;      // of the newest, escaped
    std::string why;              // of the newest
  };

  // Counts one. Returns the line to log, or nothing if this topic had one within the hour. `now` is monotonic.
  std::optional<std::string> Count(std::string_view topic, std::string_view first_bytes, std::string_view why,
                                   rules::Millis now);

  std::int64_t Total() const { return total_; }
  const std::map<std::string, Topic, std::less<>>& Topics() const { return topics_; }

 private:
  std::int64_t total_ = 0;
  std::map<std::string, Topic, std::less<>> topics_;
};

}  // namespace rindwatch::sensors
