// What the counting of one care comes to at a moment.
#pragma once

#include <optional>
#include <vector>

#include "rules/care/deeds.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

struct Pending {
  CareKind kind = CareKind::kTurn;  // of alternate kinds the one asked now
  CareState state = CareState::kNotYet;
  Date opens, due, end;
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

// What was settled on the newest day on which anything was.
class Settled {
 public:
  void Add(const Settlement& settlement) {
    if (!list_.empty() && list_.back().deed.day != settlement.deed.day) list_.clear();
    list_.push_back(settlement);
  }
  // The newest; null: none yet.
  Settlement* Last() { return list_.empty() ? nullptr : &list_.back(); }
  Settlement* LastSkipOn(Date day);
  std::vector<Settlement> On(Date day) const {
    return list_.empty() || list_.back().deed.day != day ? std::vector<Settlement>{} : list_;
  }

 private:
  std::vector<Settlement> list_;
};

struct Verdict {
  std::optional<Pending> pending;   // none: not asked
  std::vector<Settlement> settled;  // on the day of the moment, in order
};

}  // namespace rindwatch::rules
