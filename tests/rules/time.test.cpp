#include "rules/time.hpp"

#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "tests/catch.hpp"

using namespace rindwatch::rules;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;

namespace {

LocalTime Local(int year, unsigned month, unsigned day, int hour, int minute = 0) {
  return LocalTime{MakeDate(year, month, day)} + hours{hour} + minutes{minute};
}
Instant Utc(int year, unsigned month, unsigned day, int hour, int minute = 0) {
  return Instant{Local(year, month, day, hour, minute).time_since_epoch()};
}

// One hour forward at 02:00 on 29 March 2026, back at 03:00 on 25 October.
Zone Spring() { return {"spring", hours{1}, {{Utc(2026, 3, 29, 1), hours{2}}, {Utc(2026, 10, 25, 1), hours{1}}}}; }
// Half an hour of summer time, on a base of ten and a half hours: an island of the Tasman Sea.
Zone HalfHour() {
  return {"half hour", hours{11}, {{Utc(2026, 4, 4, 15), minutes{630}}, {Utc(2026, 10, 3, 15, 30), hours{11}}}};
}
// The whole of 30 December 2011 is left out: an island crosses the date line.
Zone DateLine() { return {"date line", hours{-10}, {{Utc(2011, 12, 30, 10), hours{14}}}}; }

std::vector<std::string> Split(const std::string& line) {
  std::vector<std::string> fields;
  std::istringstream text(line);
  for (std::string field; std::getline(text, field, ',');) fields.push_back(field);
  return fields;
}

Instant Parse(const std::string& text) {
  int year = 0, hour = 0, minute = 0;
  unsigned month = 0, day = 0;
  REQUIRE(std::sscanf(text.c_str(), "%d-%u-%uT%d:%d", &year, &month, &day, &hour, &minute) == 5);
  return Utc(year, month, day, hour, minute);
}

struct Row {
  LocalTime before, after;  // what the wall shows as the clock is changed
  minutes offset_before, offset_after;
  Instant at;
};

// IANA tz database 2025b as Debian ships it; tests/reference/dst_transitions.csv.
std::map<std::string, std::vector<Row>> Transitions() {
  std::map<std::string, std::vector<Row>> zones;
  std::ifstream file(RINDWATCH_SOURCE_DIR "/tests/reference/dst_transitions.csv");
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    const std::vector<std::string> fields = Split(line);
    int before = 0, after = 0;
    if (std::sscanf(fields.at(4).c_str(), "%d -> %d min", &before, &after) != 2) continue;
    const Instant shown_before = Parse(fields.at(3).substr(0, 16));
    const Instant shown_after = Parse(fields.at(3).substr(20, 16));
    zones[fields.at(2)].push_back({LocalTime{shown_before.time_since_epoch()},
                                   LocalTime{shown_after.time_since_epoch()}, minutes{before}, minutes{after},
                                   Parse(fields.at(5).substr(0, 16))});
  }
  return zones;
}

}  // namespace

TEST_CASE("dates and instants are written as ISO 8601 writes them") {
  CHECK(ToText(MakeDate(2028, 2, 29)) == "2028-02-29");
  CHECK(ToText(Utc(2026, 11, 25, 7, 30) + milliseconds{5}) == "2026-11-25T07:30:00.005Z");
  CHECK(ToText(FromMillis(-1)) == "1969-12-31T23:59:59.999Z");
  CHECK(WeekdayOf(MakeDate(2026, 11, 25)) == std::chrono::Wednesday);
}

TEST_CASE("a zone shows the wall clock of the tz database around every change from 2026 to 2028") {
  const auto zones = Transitions();
  CHECK(zones.size() == 4);
  for (const auto& [name, rows] : zones) {
    INFO(name);
    std::vector<Zone::Transition> transitions;
    for (const Row& row : rows) transitions.push_back({row.at, row.offset_after});
    const Zone zone(name, rows.front().offset_before, transitions);
    for (const Row& row : rows) {
      INFO(ToText(row.at));
      CHECK(zone.ToLocal(row.at) == row.after);
      CHECK(zone.ToLocal(row.at - milliseconds{1}) == row.before - milliseconds{1});
      const bool gap = row.before < row.after;
      const LocalTime inside = (gap ? row.before : row.after) + minutes{30};
      // Skipped or shown twice, it is read with the offset that held before.
      CHECK(zone.ToInstant(inside) == Instant{inside.time_since_epoch()} - row.offset_before);
      CHECK(zone.FirstInstantAtOrAfter(inside) == (gap ? row.at : zone.ToInstant(inside)));
    }
  }
}

TEST_CASE("a zone without changes has one offset for ever") {
  const Zone zone("fixed", minutes{345}, {});
  CHECK(zone.ToLocal(Utc(1950, 1, 1, 0)) == Local(1950, 1, 1, 5, 45));
  CHECK(zone.ToInstant(Local(2090, 1, 1, 5, 45)) == Utc(2090, 1, 1, 0));
  CHECK(Zone().Name() == "UTC");
  CHECK(Zone().ToLocal(Utc(2026, 1, 1, 3)) == Local(2026, 1, 1, 3));
}

TEST_CASE("a round that ends after midnight belongs to its evening") {
  const DayTurn turn{Spring(), 4};
  CHECK(turn.DayOf(turn.zone.ToInstant(Local(2026, 6, 10, 3, 59))) == MakeDate(2026, 6, 9));
  CHECK(turn.DayOf(turn.zone.ToInstant(Local(2026, 6, 10, 4))) == MakeDate(2026, 6, 10));
  const DayTurn midnight{Spring(), 0};
  CHECK(midnight.DayOf(midnight.zone.ToInstant(Local(2026, 6, 10, 0))) == MakeDate(2026, 6, 10));
}

TEST_CASE("where the clock skips the day's hour the day begins at the first instant after the skip") {
  const DayTurn turn{Spring(), 2};
  CHECK(turn.StartOf(MakeDate(2026, 3, 29)) == Utc(2026, 3, 29, 1));
  CHECK(turn.DayOf(Utc(2026, 3, 29, 1) - milliseconds{1}) == MakeDate(2026, 3, 28));
  CHECK(turn.DayOf(Utc(2026, 3, 29, 1)) == MakeDate(2026, 3, 29));
  CHECK(turn.EndOf(MakeDate(2026, 3, 29)) == Utc(2026, 3, 30, 0));
}

TEST_CASE("where the clock shows the day's hour twice the day begins at the first") {
  const DayTurn turn{Spring(), 2};
  CHECK(turn.StartOf(MakeDate(2026, 10, 25)) == Utc(2026, 10, 25, 0));
  CHECK(turn.DayOf(Utc(2026, 10, 25, 1, 30)) == MakeDate(2026, 10, 25));  // 02:30 for the second time
  CHECK(turn.EndOf(MakeDate(2026, 10, 25)) - turn.StartOf(MakeDate(2026, 10, 25)) == hours{25});
}

TEST_CASE("half an hour of summer time moves the day by half an hour") {
  const DayTurn turn{HalfHour(), 2};
  CHECK(turn.StartOf(MakeDate(2026, 10, 4)) == Utc(2026, 10, 3, 15, 30));  // 02:00 is skipped until 02:30
  CHECK(turn.EndOf(MakeDate(2026, 10, 4)) - turn.StartOf(MakeDate(2026, 10, 4)) == minutes{23 * 60 + 30});
}

TEST_CASE("a date that a place leaves out is a short day that overlaps no other") {
  const DayTurn turn{DateLine(), 4};
  const Date left_out = MakeDate(2011, 12, 30);
  CHECK(turn.StartOf(left_out) == Utc(2011, 12, 30, 10));
  CHECK(turn.EndOf(left_out) == Utc(2011, 12, 30, 14));
  CHECK(turn.DayOf(Utc(2011, 12, 30, 9, 59)) == MakeDate(2011, 12, 29));
  CHECK(turn.DayOf(Utc(2011, 12, 30, 14)) == MakeDate(2011, 12, 31));
}

TEST_CASE("every instant lies in exactly one day, and days follow each other") {
  std::mt19937 random(20260302);
  for (const Zone& zone : {Zone(), Spring(), HalfHour(), DateLine()}) {
    for (int hour = 0; hour <= 5; ++hour) {
      const DayTurn turn{zone, hour};
      for (int i = 0; i < 300; ++i) {
        const Date around = (zone.Name() == "date line" ? MakeDate(2011, 12, 25) : MakeDate(2026, 1, 1));
        const auto span = zone.Name() == "date line" ? 10 : 364;
        const Instant at{around.time_since_epoch() +
                         seconds{std::uniform_int_distribution<int>(0, span * 86400)(random)}};
        const Date day = turn.DayOf(at);
        CHECK(turn.StartOf(day) <= at);
        CHECK(at < turn.EndOf(day));
        CHECK(turn.DayOf(turn.StartOf(day)) == day);
        CHECK(turn.DayOf(turn.EndOf(day)) > day);  // a date left out from midnight to midnight holds no instant
      }
    }
  }
}

TEST_CASE(
    "every instant lies in its keeper's day, also near changes of the clock, and many are found as each by itself") {
  std::mt19937 random(3);
  for (const Zone& zone : {Zone{}, Spring(), HalfHour(), DateLine()}) {
    for (const int hour : {0, 4, 5}) {
      const DayTurn turn{zone, hour};
      DayFinder finder(turn);
      const auto check = [&](Instant at) {
        INFO(zone.Name() << ' ' << ToText(at) << ' ' << hour);
        const Date day = turn.DayOf(at);
        CHECK(turn.StartOf(day) <= at);
        CHECK(at < turn.EndOf(day));
        CHECK(finder.DayOf(at) == day);
      };
      for (const Zone::Transition& change : zone.Transitions()) {
        for (int i = -120; i <= 120; ++i) check(change.from + minutes{30 * i});
        check(change.from - milliseconds{1});
      }
      for (int i = 0; i < 100; ++i) {
        check(Utc(2011, 1, 1, 0) + minutes{std::uniform_int_distribution<int>(0, 60 * 24 * 365 * 16)(random)});
      }
    }
  }
}
