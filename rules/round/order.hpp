// Where a line stands in the round, and which wheels share it.
#pragma once

#include <compare>
#include <memory>

#include "rules/round/group.hpp"

namespace rindwatch::rules {

// What decides over order before anything else. Ascending is working order.
struct WayPoint {
  int mark = 0;  // 0: none; held, then faults, mite dust last
  int room = 0;  // 0 unless rooms are finished one by one
  int rind = 0;
  int cave = 0;
  CaveId cave_id = 0;
  int age_group = 0;
  int shelf = 0;
  std::string shelf_name;
  int age = 0;  // days since made
  LotId lot = 0;
  auto operator<=>(const WayPoint&) const = default;
};
WayPoint WayPointOf(const RoundGroup& group, bool by_room);

// Equal keys share a line. Keeps the schedule that it points into.
struct LineKey {
  WayPoint walk;
  std::shared_ptr<const Schedule> schedule;
  const CareLine* care = nullptr;

  bool operator<(const LineKey& other) const;
};

struct QuestionKey {
  WayPoint walk;
  std::shared_ptr<const Schedule> schedule;
  const Question* question = nullptr;

  bool operator<(const QuestionKey& other) const;
};

// On a day's round: due, late, settled on it or named once.
bool IsShown(const CareLine& care);

}  // namespace rindwatch::rules
