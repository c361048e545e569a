// A calendar file by RFC 5545: content lines, folded and escaped; times by the keeper's clock on the wall, with the
// zone's own changes beside them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch::feed {

struct Event {
  std::string uid;  // the same for the same round in every edition
  rules::Instant start;
  std::chrono::minutes length{0};  // at least one
  std::string summary;
  std::string description;  // rows are parted by line feeds
};

struct Calendar {
  std::string name;
  rules::Zone zone;
  rules::Instant made;
  std::vector<Event> events;  // ascending
};

std::string Write(const Calendar& calendar);

// TEXT of RFC 5545, section 3.3.11.
std::string Escape(std::string_view text);
// A content line in pieces of at most 75 octets, none of which cuts a character; ends with CR LF.
std::string Fold(std::string_view line);

}  // namespace rindwatch::feed
