// Days without a line, settled at once: nobody was there, or all was done and not written.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// Two pressed wheels in their box; washed on the Thursday, then a week without a line.
struct MissedWeek : Keeping {
  MissedWeek() {
    Do("enter", InTheBox(PressedWheels(2, NewCave("box"), 12), 9));
    now += 1h;
    Do("care", Care({1, 2}, {"wash", "turn"}));
    now += std::chrono::hours{24 * 8};
  }
  static std::string Day(int after) { return DaysAgo(-after); }
  std::size_t Late(rules::WheelId wheel) const {
    const auto schedule = rules::ScheduleAt(Wheel(wheel).History(), book.CalendarOf(1), now);
    return static_cast<std::size_t>(
        std::ranges::count(schedule.lines, rules::CareState::kLate, &rules::CareLine::state));
  }
  JournalLine Settle(const char* how) { return Do("past", {{"how", how}, {"from", Day(1)}, {"to", Day(7)}}); }
};

TEST_CASE("who was away marks the days, and what was due on them is late no more") {
  MissedWeek week;
  REQUIRE(week.Late(1) > 0);
  const JournalLine away = week.Settle("away");
  CHECK(week.Late(1) == 0);
  CHECK(week.book.CalendarOf(1).away.size() == 7);
  week.Do("undo", {{"of", away.id}});
  CHECK(week.Late(1) > 0);
  CHECK(week.book.CalendarOf(1).away.empty());
}

TEST_CASE("who forgot to write has a late entry for each due day, done on its day, and one undo takes all back") {
  MissedWeek week;
  const std::size_t before = week.Wheel(1).History().acts.size();
  const JournalLine fine = week.Settle("all fine");
  CHECK(fine.late_entry);
  CHECK(fine.wheels == std::vector<rules::WheelId>{1, 2});
  CHECK(week.Late(1) == 0);
  CHECK(week.Late(2) == 0);
  const auto& acts = week.Wheel(1).History().acts;
  REQUIRE(acts.size() > before + 1);
  for (std::size_t n = before; n < acts.size(); ++n) {
    CHECK(rules::ToText(week.book.Home().DayOf(acts[n].at)) >= MissedWeek::Day(1));
    CHECK(rules::ToText(week.book.Home().DayOf(acts[n].at)) <= MissedWeek::Day(7));
    CHECK(acts[n].known_from == week.now);
  }
  const JournalLine one = week.Do("undo", {{"of", fine.id}, {"wheels", Ids({1})}});
  CHECK(week.Late(1) > 0);
  CHECK(week.Late(2) == 0);
  week.Do("undo", {{"of", one.id}});
  CHECK(week.Late(1) == 0);
  week.Do("undo", {{"of", fine.id}});
  CHECK(week.Late(1) > 0);
  CHECK(week.Late(2) > 0);
}

TEST_CASE("a past that cannot be settled is told why") {
  MissedWeek week;
  const auto refused = [&](const char* how, int from, int to) {
    return week.Refused("past", {{"how", how}, {"from", MissedWeek::Day(from)}, {"to", MissedWeek::Day(to)}});
  };
  CHECK(refused("well", 1, 7).field == "how");
  CHECK(refused("away", 1, 8).field == "to");
  CHECK(refused("away", 5, 4).field == "to");
  week.Settle("all fine");
  CHECK_THAT(refused("all fine", 1, 7).what, Says("Nothing is open of those days."));
}

}  // namespace
}  // namespace rindwatch
