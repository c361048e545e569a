// What a keeper handles of the house as a whole: who keeps it, in which order it is walked, who is away when, who took
// which part of a round, the address of its calendar.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "daemon/book/hearing.hpp"
#include "daemon/book/since.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

struct KeeperSaid {
  std::string name;  // initials
  bool leaves = false;
};

struct CaveOrder {
  std::vector<rules::CaveId> caves;  // those that are not named come after them
  bool by_room = false;              // one room is finished before the next
};

// Days on which nobody comes; `back` is the first day there again.
struct Absence {
  rules::Date from, back;
  std::vector<rules::CaveId> caves;  // none: all
};

// A keeper's part of a day's round.
struct Share {
  rules::Date day;
  std::string keeper;
  std::vector<rules::CaveId> caves;
  std::set<std::string> lines;  // by key
};

struct Feed {
  bool open = false;
  std::string secret;  // 128 random bits, 32 hexadecimal digits
};

// All that was said, in the order of the journal. Owned by the book.
struct Settings {
  std::vector<Since<KeeperSaid>> keepers;
  std::vector<Since<CaveOrder>> orders;
  std::vector<Since<Absence>> absences;
  std::vector<Since<Share>> shares;
  std::vector<Since<Feed>> feeds;
  std::vector<Since<Hearing>> hearings;
};

}  // namespace rindwatch
