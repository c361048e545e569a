// Days to come, as a perfect keeper will find them: what, where and how long.
#pragma once

#include <vector>

#include "rules/care/look_ahead.hpp"
#include "rules/round/round.hpp"

namespace rindwatch::rules {

struct GroupAhead {
  const RoundGroup* group = nullptr;
  const std::vector<Ahead>* ahead = nullptr;  // of the life they share
};

struct ComingLine {
  RoundPlace place;
  LotId lot = 0;
  std::vector<CareKind> kinds;  // each once
  std::vector<RoundWheel> wheels;
  double seconds = 0;
};

struct ComingDay {
  Date day;
  int minutes = 0;                // changes of gloves counted in; summed as MinuteSum says
  std::vector<ComingLine> lines;  // in working order
};

// Days with work after `after`, ascending.
std::vector<ComingDay> ComingDays(const std::vector<GroupAhead>& groups, const RoundHabits& habits, Date after);

}  // namespace rindwatch::rules
