// MQTT topic names and topic filters by the rules of OASIS MQTT 3.1.1, section 4.7. Pure functions, any thread.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rindwatch::sensors {

// What is wrong with a filter to subscribe to, as one sentence for the keeper; nothing if it is sound.
std::optional<std::string> FilterFault(std::string_view filter);

// What is wrong with a topic to publish to, as one sentence for the keeper; nothing if it is sound.
std::optional<std::string> TopicFault(std::string_view topic);

// Whether a message on `topic` reaches a subscriber to `filter`. Both are taken as sound.
bool Matches(std::string_view filter, std::string_view topic);

// Whether some topic matches both filters.
bool Overlap(std::string_view one, std::string_view other);

// Filters that match all that the given ones match (and perhaps more), no two of which overlap: a broker may send a
// message once for each subscription that it matches (MQTT 3.1.1, section 3.3.5), and a reading must not come twice.
std::vector<std::string> WithoutOverlaps(std::vector<std::string> filters);

}  // namespace rindwatch::sensors
