// What the counting of one care comes to at a moment.
#pragma once

#include <optional>
#include <vector>

#include "rules/care/run.hpp"
#include "rules/care/window.hpp"

namespace rindwatch::rules {

struct Pending {
  CareKind kind = CareKind::kTurn;  // of alternate kinds the one asked now
  CareState state = CareState::kNotYet;
  Date due, end;
  int tolerance = 0;
  bool away = false;
  bool evening = false;
  std::optional<Instant> not_before;

  bool OnRound() const { return state == CareState::kDue || state == CareState::kLate; }
};

// A doing or skip that counted, with what it settled.
struct Settlement {
  Deed deed;
  Date due, end;
  int tolerance = 0;
  bool evening = false;
};

struct Verdict {
  std::optional<Pending> pending;   // none: not asked
  std::vector<Settlement> settled;  // on the day of the moment, in order
};

// Every N days, N a week.
Verdict JudgeByDays(const Ground& ground, const Run& run, const Moment& moment);
// Morning and evening.
Verdict JudgeTwiceADay(const Ground& ground, const Run& run, const Moment& moment);
// The once cares of a segment, which share the doings of a kind: one verdict for each, null for other cares.
std::vector<std::optional<Verdict>> JudgeOnce(const Ground& ground, std::size_t index, const Moment& moment);
Verdict JudgeAgreed(const Ground& ground, const AgreedDeed& agreed);

}  // namespace rindwatch::rules
