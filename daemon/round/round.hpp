// The cares due on a day, as lines: wheels of one place, lot and care are one line. Facts, no sentences.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch {

struct RoundLine {
  std::vector<const WheelRow*> wheels;  // at least one; all alike in what follows
  const CaveRow* cave = nullptr;        // null: lies nowhere of ours
  std::string shelf;
  rules::Standing standing;
  rules::CareLine care;
};

struct RoundQuestion {
  std::vector<const WheelRow*> wheels;
  const CaveRow* cave = nullptr;
  std::string shelf;
  rules::Standing standing;
  rules::Question question;
};

// What may be done early, and what the next day with work holds.
struct RoundAhead {
  rules::Date day;
  std::vector<rules::CareKind> kinds;
  const CaveRow* cave = nullptr;
  std::string shelf;
  std::vector<const WheelRow*> wheels;  // at least one
  std::optional<rules::Instant> from;   // the hour before which it is not asked, if later today
};

struct Round {
  rules::Date day;
  std::vector<RoundLine> lines;  // due, late, settled and named once, in working order
  std::vector<RoundQuestion> questions;
  std::vector<RoundAhead> open;  // may be done today
  std::vector<RoundAhead> next;  // later today, or of the next day with work; empty if nothing comes within a month

  std::size_t Left() const;  // lines on the round
};

Round RoundAt(const Book& book, rules::Instant now);

}  // namespace rindwatch
