// What lies where, as the round needs it: wheels of one place and lot that live one life.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "rules/care/schedule.hpp"
#include "rules/faults/fault_kind.hpp"
#include "rules/ids.hpp"
#include "rules/units.hpp"

namespace rindwatch::rules {

// A board or, where a cave's boards have no names, the cave.
struct RoundPlace {
  CaveId cave = 0;      // 0: lies nowhere of ours
  int cave_order = 0;   // in the keeper's order of caves
  int room = 0;         // the cave_order of the outermost cave around it
  std::string shelf;    // may be empty
  int shelf_order = 0;  // in walking order inside the cave
  bool high = false;    // above the shoulder: what may be lifted there is less
};

struct RoundWheel {
  WheelId id = 0;
  int number = 0;    // counted from the door on its board; 0: not counted
  Grams weight;      // 0: unknown
  bool cut = false;  // has a cut face, which is not washed
  bool operator==(const RoundWheel&) const = default;
};

struct RoundGroup {
  RoundPlace place;
  LotId lot = 0;
  std::optional<FaultKind> mark;  // the gravest that was seen and not yet found gone
  bool held = false;
  std::shared_ptr<const Schedule> schedule;  // of the life they share; its plan must be set
  std::vector<RoundWheel> wheels;            // at least one
  std::vector<std::string> put_off;          // questions that wait until tomorrow: a start's word, a branch's text
};

// Worked last of the whole round: what is held, and what gloves, cloth and brush would carry to other wheels.
bool IsMarked(const RoundGroup& group);

// Young, middle, old, as 0, 1, 2: what shares one wash liquid at most. Counted in days since made; the bounds are those
// at which the cares of most families change (common practice, no source).
int AgeGroupOf(RindClass rind, int age);

}  // namespace rindwatch::rules
