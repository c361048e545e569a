// The journal's line and the facts that follow from it.
#pragma once

#include <boost/json/value.hpp>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/time.hpp"

namespace rindwatch {

using rules::ToMillis;
using rules::ToText;

// A fact with a from: (subject, from, value) and the line that says it; never overwritten, the present is the newest
// that no undo names. Which subjects and facts there are stands in facts.hpp.
struct Fact {
  std::string subject_kind;  // "cave", "wheel", "lot", "probe", "plan", "act"
  std::int64_t subject = 0;
  std::string what;  // "place"
  rules::Instant from;
  boost::json::value value;
};

// One line of the journal: what a keeper did or decided, or what the daemon concluded. Append-only.
struct JournalLine {
  std::int64_t position = 0;  // order among all that was kept, given by the store
  std::string id;             // an act's: made on the phone; the daemon's own lines name what they say
  std::string kind;           // "care", "undo", "enter", "alarm", "started" ...
  std::string keeper;         // empty where one keeps alone, and on the daemon's lines
  std::optional<rules::CaveId> cave;
  std::vector<rules::WheelId> wheels;
  rules::Instant at;                                          // of the act: said or tapped, by our clock
  std::optional<rules::Instant> tapped_at, said_at, sent_at;  // by the phone's clock, as they came
  rules::Instant received_at;                                 // by ours
  // It lay on a phone without reception: its keeper knew nothing of what came meanwhile.
  bool Waited() const { return received_at - at > std::chrono::minutes{1}; }
  bool late_entry = false;  // said more than ten minutes before it was tapped
  std::string body;         // JSON as it came
  std::string given;        // JSON that the daemon added (new numbers, plan versions); may be empty
  std::string answer;       // JSON that was answered; a repeat gets it again
};

}  // namespace rindwatch
