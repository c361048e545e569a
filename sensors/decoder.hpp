// From the bytes of a message to values of channels, as a route says. Pure; any thread.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/reading.hpp"
#include "rules/time.hpp"
#include "sensors/route.hpp"

namespace rindwatch::sensors {

// A probe's message is a few hundred bytes; what is longer is refused unread.
constexpr std::size_t kLongestPayload = 65'536;

struct Value {
  rules::ChannelId channel = 0;
  std::int64_t milli = 0;  // thousandths of the channel kind's unit
};

struct Decoded {
  std::vector<Value> values;               // what could be read, in the route's order
  std::optional<rules::Instant> own_time;  // as the payload says, believable or not
  bool unreadable_time = false;            // a time stands there, but it is none
  std::vector<std::string> faults;         // one clause each: what was expected and found, in the keeper's words
  std::string nothing_there;               // such a clause if none of the route's channels stands in the message
};

// A plain route wants one number. In a JSON text a number may also stand as a string; `null` and a place that is not
// there both mean that the probe did not say this channel now, which is no fault as long as another channel is there.
// A channel that is there but wrong is a fault and leaves the others as they are. No time is no fault.
Decoded Decode(const Route& route, std::string_view payload);

}  // namespace rindwatch::sensors
