#include "rules/notices/mornings.hpp"

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

// Vienna's last change of the clock in 2026: on Sunday 25 October at 01:00 UTC it goes back from 03:00 to 02:00.
const Zone kVienna{"Europe/Vienna",
                   hours{1},
                   {{FromMillis(1'774'746'000'000), hours{2}},    // 2026-03-29T01:00Z
                    {FromMillis(1'792'890'000'000), hours{1}}}};  // 2026-10-25T01:00Z
const DayTurn kHome{kVienna, 4};

struct Subscriber {
  std::vector<ListReader> readers{ListReader{.hearer = {.name = "IH"}}};
  std::set<ListSent> sent;
  bool work = true, evening = false;

  std::vector<ListSent> Look(Instant now) {
    const DueLists due = ListsDue(readers, {kHome.DayOf(now), work, evening}, sent, kHome, now);
    sent.insert(due.now.begin(), due.now.end());
    sent.insert(due.passed.begin(), due.passed.end());
    next = due.next;
    return due.now;
  }
  std::optional<Instant> next;
};

Instant Local(Date day, int hour, int minute = 0) {
  return kVienna.ToInstant(LocalTime{day} + hours{hour} + minutes{minute});
}

}  // namespace

TEST_CASE("the list goes out at its hour, once a day") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  CHECK(reader.Look(Local(thursday, 6, 29)).empty());
  CHECK(reader.next == Local(thursday, 6, 30));
  CHECK(reader.Look(Local(thursday, 6, 30)) == std::vector<ListSent>{{"IH", thursday, false}});
  CHECK(reader.Look(Local(thursday, 6, 31)).empty());
  CHECK(reader.Look(Local(thursday, 23)).empty());
  CHECK(reader.next == Local(thursday + days{1}, 6, 30));
}

TEST_CASE("late rather than never, until the keeper's day ends") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  SECTION("the same day") { CHECK(reader.Look(Local(thursday, 15)).size() == 1); }
  SECTION("in the small hours it is still that day") {
    CHECK(reader.Look(Local(thursday + days{1}, 3)) == std::vector<ListSent>{{"IH", thursday, false}});
  }
  SECTION("not the day after") {
    CHECK(reader.Look(Local(thursday + days{1}, 5)).empty());
    CHECK(reader.next == Local(thursday + days{1}, 6, 30));
  }
}

TEST_CASE("by default on days with work and on Sundays; daily or never by choice") {
  Subscriber reader;
  reader.work = false;
  const Date saturday = MakeDate(2026, 11, 28);
  CHECK(reader.Look(Local(saturday, 7)).empty());
  CHECK(reader.Look(Local(saturday + days{1}, 7)).size() == 1);
  CHECK(reader.Look(Local(saturday + days{2}, 7)).empty());
  reader.readers[0].habit = ListHabit::kDaily;
  CHECK(reader.Look(Local(saturday + days{3}, 7)).size() == 1);
  reader.readers[0].habit = ListHabit::kNever;
  reader.work = true;
  CHECK(reader.Look(Local(saturday + days{4}, 7)).empty());
  CHECK(!reader.next);
}

TEST_CASE("work that comes after the hour makes no morning") {
  Subscriber reader;
  reader.work = false;
  const Date thursday = MakeDate(2026, 11, 26);
  CHECK(reader.Look(Local(thursday, 6, 30)).empty());
  reader.work = true;
  CHECK(reader.Look(Local(thursday, 14)).empty());
}

TEST_CASE("whoever asks for lists at noon gets the next morning's") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  reader.readers[0].since = Local(thursday, 12);
  CHECK(reader.Look(Local(thursday, 12, 1)).empty());
  CHECK(reader.Look(Local(thursday + days{1}, 6, 30)).size() == 1);
}

TEST_CASE("a second list in the evening where a wheel is handled twice a day") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  reader.evening = true;
  CHECK(reader.Look(Local(thursday, 7)).size() == 1);
  CHECK(reader.Look(Local(thursday, 18)) == std::vector<ListSent>{{"IH", thursday, true}});
  CHECK(reader.Look(Local(thursday, 19)).empty());
  reader.evening = false;
  CHECK(reader.Look(Local(thursday + days{1}, 7)).size() == 1);
  CHECK(reader.Look(Local(thursday + days{1}, 18)).empty());
}

TEST_CASE("one list on the days on which the clock changes, also at an hour that comes twice or never") {
  for (const Date sunday : {MakeDate(2026, 3, 29), MakeDate(2026, 10, 25)}) {
    for (const minutes hour : {minutes{150}, minutes{390}}) {
      Subscriber reader;
      reader.readers[0].morning = hour;
      int sent = 0;
      for (Instant now = Local(sunday - days{1}, 5); now < Local(sunday + days{1}, 5); now += minutes{10}) {
        for (const ListSent& list : reader.Look(now)) sent += list.day == sunday - days{1} || list.day == sunday;
      }
      INFO(ToText(sunday) << " at " << hour.count());
      CHECK(sent == 2);
    }
  }
}

TEST_CASE("a clock set back by some hours sends nothing again") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  CHECK(reader.Look(Local(thursday, 7)).size() == 1);
  CHECK(reader.Look(Local(thursday, 5)).empty());
  CHECK(reader.Look(Local(thursday, 6, 30)).empty());
}

TEST_CASE("who is away gets no list") {
  Subscriber reader;
  const Date thursday = MakeDate(2026, 11, 26);
  reader.readers[0].hearer.holidays = {{thursday, thursday + days{2}}};
  CHECK(reader.Look(Local(thursday, 7)).empty());
  CHECK(reader.Look(Local(thursday + days{1}, 7)).empty());
  CHECK(reader.Look(Local(thursday + days{2}, 7)).size() == 1);
}

TEST_CASE("the words of a habit go both ways") {
  for (const ListHabit habit : {ListHabit::kWork, ListHabit::kDaily, ListHabit::kNever})
    CHECK(ListHabitFrom(ToText(habit)) == habit);
  CHECK(!ListHabitFrom("weekly"));
}

}  // namespace rindwatch::rules
