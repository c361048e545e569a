// What other limits would have made of what rang, by what the keeper called it: "rung for both that you called real,
// and no longer for 3 of the 4 that you called a door". Pure.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "daemon/replay/rung.hpp"

namespace rindwatch {

// Of those that rang then, how many the replay still rings for.
struct Retold {
  int rang = 0, still = 0;
};

struct Compared {
  Retold real;                           // the keeper called it real
  std::map<std::string, Retold> called;  // otherwise, by the keeper's word: "door"
  Retold unsaid;                         // nobody said what it was
  int fresh = 0;                         // of what the replay rings: stands for nothing that rang then
};

// Alarms of the replay stand for those of the journal that they have the time and the matter in common with, or else
// for the nearest within hours. Those of `now` that the journal does not have are called as what they stand for.
Compared Compare(const std::vector<Rung>& then, std::vector<Rung>& now);

}  // namespace rindwatch
