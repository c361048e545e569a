// From the book to what the rules of the round ask for: which wheels lie together, alike in everything that counts.
#pragma once

#include <compare>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/round/group.hpp"

namespace rindwatch {

// What must be equal for wheels to lie together.
struct Together {
  std::uint64_t life = 0;  // stamp of the life that they share
  rules::CaveId cave = 0;  // 0: nowhere of ours
  std::string shelf;
  LotId lot = 0;
  std::optional<rules::FaultKind> mark;
  bool held = false;
  auto operator<=>(const Together&) const = default;
};

struct WheelGroup {
  const rules::WheelHistory* history = nullptr;   // of the life they share; the book's
  const rules::CareCalendar* calendar = nullptr;  // of their cave; the ways'
  rules::RoundGroup group;                        // without a schedule until one was made
};

// How one wheel lies; none: it had not come, or was gone.
struct WheelLying {
  Together where;
  rules::RoundWheel wheel;
};
// As it lies now.
std::optional<WheelLying> LyingNow(const Book& book, const WheelRow& wheel);
// As it lay at `at`, as far as the book knows now.
std::optional<WheelLying> LyingAt(const Book& book, const WheelRow& wheel, rules::Instant at);

// The way through caves and boards, and the calendar of each cave. Good until a cave comes or changes, and for boards
// that were seen.
class Ways {
 public:
  explicit Ways(const Book& book);
  void See(const Together& where);
  // Once all are seen: the boards in walking order, first as the keeper gave them, then by name.
  void Settle();
  bool Knows(const Together& where) const;
  rules::RoundPlace PlaceOf(const Together& where) const;
  // Of the cave; lives as long as this.
  const rules::CareCalendar& CalendarOf(const Together& where) const;

 private:
  struct Way {
    int order = 0, room = 0;
    std::vector<std::string> given;
    std::vector<std::string> seen;
    rules::CareCalendar calendar;

    int OrderOf(const std::string& shelf) const;
  };
  const Way& WayOf(const Together& where) const;

  std::map<rules::CaveId, Way> ways_;
  Way nowhere_;
};

// Wheels that are together, on that day, without a schedule.
WheelGroup GroupOf(const Book& book, const Ways& ways, const Together& where, std::vector<rules::RoundWheel> wheels,
                   rules::Date day);

// How all wheels lie. Good until the book takes in another fact.
struct WheelsLying {
  std::unique_ptr<Ways> ways;
  std::vector<WheelGroup> groups;
};
WheelsLying GatherAt(const Book& book, rules::Instant at);

// Gives every group the schedule of its life, made once a life and calendar. Groups without a plan are left out.
void ScheduleAll(WheelsLying& lying, rules::Instant asked);

}  // namespace rindwatch
