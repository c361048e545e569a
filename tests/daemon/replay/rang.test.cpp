// What rang, by the book and by decisions: the two agree on each alarm.
#include "daemon/replay/rang.hpp"

#include "daemon/book/desk.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using std::chrono::minutes;
using Change = rules::Decision::Change;
using rules::Severity;

struct Told {
  Change change;
  Severity severity;
  std::string told_by{};
};

// One alarm's decisions, ten minutes apart.
Rung RungBy(const std::vector<Told>& changes) {
  rules::Alarm alarm;
  alarm.id = "too-warm-1-1";
  alarm.kind = rules::AlarmKind::kTooWarm;
  alarm.cave = 1;
  alarm.since = alarm.raised = kThursday;
  Book book(Vienna());
  RungList list;
  rules::Instant at = kThursday;
  for (const auto& [change, severity, told_by] : changes) {
    alarm.severity = severity;
    alarm.told_by = told_by;
    const rules::Decision decision{change, at, alarm};
    list.Take(decision);
    const JournalLine line = OwnLine("alarm", LineIdOf(decision), RecordOf(decision), at);
    const std::vector<Fact> facts = FactsOf(line);
    for (const Fact& fact : facts) book.Take(line, fact);
    at += minutes{10};
  }
  const std::vector<Rung> by_book = RangIn(book, kThursday, at, {}), by_list = list.Raised(kThursday, at, {});
  REQUIRE(by_book.size() == 1);
  REQUIRE(by_list.size() == 1);
  CHECK(by_book[0].severity == by_list[0].severity);
  CHECK(by_book[0].folded == by_list[0].folded);
  CHECK(by_book[0].Rang() == by_list[0].Rang());
  return by_list[0];
}

TEST_CASE("an alarm rang if it was told as one to act upon") {
  CHECK_FALSE(RungBy({{Change::kRaised, Severity::kWatch}, {Change::kOver, Severity::kWatch}}).Rang());
  CHECK(RungBy({{Change::kRaised, Severity::kAct}}).Rang());
  const Rung worse = RungBy({{Change::kRaised, Severity::kWatch}, {Change::kRaisedSeverity, Severity::kUrgent}});
  CHECK(worse.severity == Severity::kUrgent);
  CHECK(worse.told.size() == 2);
}

TEST_CASE("what got worse while it was quiet by design did not ring, until it came back") {
  const std::vector<Told> quiet{{Change::kRaised, Severity::kWatch}, {Change::kQuieted, Severity::kWatch}};
  auto over = quiet, back = quiet;
  over.push_back({Change::kOver, Severity::kAct});
  CHECK_FALSE(RungBy(over).Rang());
  back.push_back({Change::kBack, Severity::kAct});
  back.push_back({Change::kOver, Severity::kAct});
  CHECK(RungBy(back).Rang());
}

TEST_CASE("what another alarm came to tell of counts with that one, from then on and until it outlives it") {
  std::vector<Told> told{{Change::kRaised, Severity::kWatch}, {Change::kQuieted, Severity::kWatch, "too-warm-2-2"}};
  CHECK(RungBy(told).folded);
  CHECK(TallyOf({RungBy(told)}).watch == 0);
  told.push_back({Change::kBack, Severity::kAct});
  CHECK(RungBy(told).Rang());
}

}  // namespace
}  // namespace rindwatch
