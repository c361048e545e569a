// Where decoded readings go and where the news of the broker goes. Both are implemented above.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "rules/reading.hpp"

namespace rindwatch::sensors {

// The readings of one message, kept whole or not at all.
struct Batch {
  std::string topic;              // empty for what did not come from a broker
  std::uint64_t fingerprint = 0;  // of topic and payload bytes; 0: none
  std::vector<rules::Reading> readings;
};

// What became of each reading of a batch, in its order.
enum class Kept : std::uint8_t {
  kNew,       // on disk, or safe from SIGKILL at least
  kSame,      // its own time was kept before with the same value: silent
  kConflict,  // its own time was kept before with another value: the first stays
};

struct KeepResult {
  bool kept = false;           // false: the store refuses (disk full, stopping); do not acknowledge
  std::vector<Kept> outcomes;  // as long as the batch's readings if kept
};

class ReadingSink {
 public:
  virtual ~ReadingSink() = default;
  // Returns when the batch survives SIGKILL, or when it is refused; waits 20 s at most. Any thread. Never throws.
  virtual KeepResult Keep(const Batch& batch) noexcept = 0;
};

// Calls come from the MQTT library's thread and from the connections' own and may overlap;
// implementations only hand over.
class MqttListener {
 public:
  virtual ~MqttListener() = default;
  // Kept new readings of one message, marks and sources set.
  virtual void OnReadings(const std::vector<rules::Reading>& readings) noexcept = 0;
  // A message that no route could read, or that broke one: what was expected and found, in the keeper's words.
  // `first_bytes` is escaped and short (first_bytes.hpp). What could be read of it was kept all the same.
  virtual void OnInvalid(std::string_view topic, std::string_view first_bytes, std::string_view why) noexcept = 0;
  // Any message, for "the topics that are arriving", retained ones too; once a second per topic at most.
  virtual void OnArriving(std::string_view topic, std::string_view first_bytes, rules::Instant at) noexcept = 0;
  // The connection came up or went down; `why` is empty when up. Down is told once for each reason, not each attempt.
  virtual void OnConnection(bool up, std::string_view why) noexcept = 0;
  // What the keeper must know though the connection is up, such as a filter that the broker refuses. One sentence.
  virtual void OnTrouble(std::string_view what) noexcept { static_cast<void>(what); }
};

}  // namespace rindwatch::sensors
