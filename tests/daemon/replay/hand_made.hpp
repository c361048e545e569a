// A journal made by hand: lines of alarms and starts as the watch would have written them, kept at their own instants.
#pragma once

#include <algorithm>
#include <atomic>
#include <string>
#include <vector>

#include "daemon/book/desk.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/replay/replay.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch::testing {

class HandMadeJournal {
 public:
  HandMadeJournal() { rig_.Begin(); }

  // Raised `at` after the begin, over `over` after it or not at all.
  void Rings(rules::Millis at, std::optional<rules::Millis> over = {}, rules::CaveId cave = 1,
             rules::Severity severity = rules::Severity::kAct) {
    rules::Alarm alarm;
    alarm.kind = rules::AlarmKind::kTooWarm;
    alarm.cave = cave;
    alarm.severity = severity;
    alarm.since = alarm.raised = kThursday + at;
    alarm.id = "too-warm-" + std::to_string(cave) + "-" + std::to_string(ToMillis(alarm.raised));
    Decided({rules::Decision::Change::kRaised, alarm.raised, alarm});
    if (!over) return;
    alarm.over = kThursday + *over;
    Decided({rules::Decision::Change::kOver, *alarm.over, alarm});
  }
  void Decided(const rules::Decision& decision) {
    lines_.push_back(OwnLine("alarm", LineIdOf(decision), RecordOf(decision), decision.at));
  }
  // A start as it was before it named the rules, or of a version of them.
  void Starts(rules::Millis at, std::optional<int> rules = {}) {
    json::object body{{"watched_until", nullptr}};
    if (rules) body["rules"] = *rules;
    const rules::Instant instant = kThursday + at;
    lines_.push_back(OwnLine("started", "started " + std::to_string(ToMillis(instant)), std::move(body), instant));
  }
  // Something is kept at its begin and end, so that the span is all of it.
  ReplayReport ReplayedOver(rules::Millis from, rules::Millis to) {
    Write(to);
    const std::atomic<bool> go_on{false};
    const ReplayCall call{.from = kThursday + from, .to = kThursday + to, .cave = {}, .other = {}, .whole = false};
    return Replay(rig_.settings.path, Vienna(), call, go_on);
  }

 private:
  void Write(rules::Millis to) {
    Keep(MakeLine("begin"), kThursday);
    std::ranges::stable_sort(lines_, {}, &JournalLine::at);
    for (const JournalLine& line : lines_) Keep(line, line.at);
    Keep(MakeLine("end"), kThursday + to - rules::Millis{1});
  }
  void Keep(JournalLine line, rules::Instant at) {
    rig_.clock.wall = ToMillis(at);
    line.at = at;
    const bool own = line.kind == "alarm" || line.kind == "started";
    if (!own) line.kind = "note";
    rig_.Append(line, own ? FactsOf(line) : std::vector<Fact>{});
  }

  TempFolder folder_;
  Rig rig_{folder_ / "rind.db"};
  std::vector<JournalLine> lines_;
};

}  // namespace rindwatch::testing
