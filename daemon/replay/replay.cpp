#include "daemon/replay/replay.hpp"

#include <spdlog/spdlog.h>

#include <algorithm>
#include <boost/json.hpp>
#include <functional>
#include <map>

#include "daemon/book/book.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/replay/rang.hpp"
#include "daemon/replay/told.hpp"
#include "daemon/store/record.hpp"
#include "daemon/watch/alarm_record.hpp"

namespace rindwatch {

using rules::Decision;
using rules::Instant;
using rules::Millis;

namespace {

// The longest span that the engine learns from is 28 days, and a week. What rings in the first days of a run-up, in
// which nothing is learned yet, is no part of that and is missing for as long: so twice.
constexpr Millis kLongestMemory = std::chrono::days{70};
constexpr std::size_t kMostDifferences = 100;

void Put(rules::CaveGiven& given, const OtherLimits& other) {
  if (other.cave && *other.cave != given.cave) return;
  if (other.temperature || other.wheels_temperature) given.temperature_limit = other.temperature;
  if (other.humidity || other.wheels_humidity) given.humidity_limit = other.humidity;
  if (other.ready_cheese) given.ready_cheese = *other.ready_cheese;
  std::erase_if(given.out_of_service,
                [&](rules::AlarmKind kind) { return std::ranges::count(other.judged, kind) > 0; });
  given.own.insert(given.own.end(), other.settings.begin(), other.settings.end());
  given.out_of_service.insert(given.out_of_service.end(), other.off.begin(), other.off.end());
}

// Lines of the journal by their ids.
struct Decided {
  Instant at, raised;
  std::string body;
};
using Lines = std::map<std::string, Decided>;

// Book and engine, stepped through what was kept, as the watch steps them.
class Rehearsal {
 public:
  Rehearsal(const rules::DayTurn& home, const ReplayCall& call) : call_(call), book_(home) {}

  RungList rung;
  Lines decided;             // that the watch would have written in the span
  std::size_t readings = 0;  // of the span

  void TakeFact(const JournalLine& line, const Fact& fact) {
    try {
      book_.Take(line, fact);
    } catch (const std::exception&) {
      // The watch said so when it met it, and goes on; so does its replay.
    } catch (const ActFault&) {
    }
  }
  void Begin(Instant since) {
    for (rules::Input& input : book_.InputsOfAll()) Step(input, since);
  }
  void Take(const Committed& committed) {
    if (const auto* said = std::get_if<std::vector<rules::Reading>>(&committed.what)) {
      for (const rules::Reading& reading : *said) {
        if (committed.at >= call_.from) ++readings;
        if (Has(reading.marks, rules::Mark::kLive)) Hear(rules::Step(engine_, reading, committed.at));
      }
    } else if (const auto* line = std::get_if<JournalLine>(&committed.what)) {
      const std::vector<Fact> facts = FactsOf(*line);
      for (const Fact& fact : facts) TakeFact(*line, fact);
      for (rules::Input& input : book_.InputsOf(*line, facts)) Step(input, committed.at);
    }
  }
  void AdvanceTo(Instant at) { Hear(rules::Advance(engine_, at)); }

 private:
  void Step(rules::Input& input, Instant at) {
    if (auto* given = std::get_if<rules::CaveGiven>(&input)) {
      for (const OtherLimits& other : call_.other) Put(*given, other);
    }
    Hear(rules::Step(engine_, input, at));
  }
  void Hear(const std::vector<Decision>& decisions) {
    for (const Decision& decision : decisions) {
      // A keeper's own line tells of these, and the journal keeps nothing of how the alarm stood then.
      if (decision.change == Decision::Change::kTaken || decision.change == Decision::Change::kSetAside) continue;
      rung.Take(decision);
      const bool told = !call_.cave || decision.alarm.cave == *call_.cave;
      if (told && decision.at >= call_.from && decision.at < call_.to) Write(decision);
    }
  }

  // A line that is there already stays, as in the journal.
  void Write(const Decision& decision) {
    decided.try_emplace(LineIdOf(decision),
                        Decided{decision.at, decision.alarm.raised, boost::json::serialize(RecordOf(decision))});
  }

  const ReplayCall& call_;
  Book book_;
  rules::EngineState engine_;
};

// What the journal says that rang.
class Journalled {
 public:
  Journalled(const rules::DayTurn& home, const ReplayCall& call) : call_(call), book_(home) {}

  RungList rung;
  Lines lines;  // of the span
  RulesTold rules;
  const Book& TheBook() const { return book_; }

  void Read(Record& record) {
    record.ReadLines("alarm", [this](const JournalLine& line) { Guarded(line, [&] { Take(line); }); });
    record.ReadLines("started", [this](const JournalLine& line) { Guarded(line, [&] { rules.Take(line); }); });
    // What it was may have been said, or taken back, after the span.
    for (const char* kind : {"called", "undo"}) {
      record.ReadLines(kind, [this](const JournalLine& line) { Guarded(line, [&] { TakeFacts(line); }); });
    }
  }

 private:
  // What became of an alarm after the span is not known at its end.
  void Take(const JournalLine& line) {
    if (line.at >= call_.to) return;
    const Decision decision = DecisionFrom(line);
    rung.Take(decision);
    TakeFacts(line);
    const bool told = !call_.cave || decision.alarm.cave == *call_.cave;
    // That the rules of a start no longer saw it is no decision of theirs that could come again.
    if (IsUnseen(boost::json::parse(line.body).as_object())) return;
    if (told && line.at >= call_.from) lines[line.id] = {line.at, decision.alarm.raised, line.body};
  }
  void TakeFacts(const JournalLine& line) {
    for (const Fact& fact : FactsOf(line)) book_.Take(line, fact);
  }
  // What is wrong with a line is said, and the others are read.
  void Guarded(const JournalLine& line, const std::function<void()>& read) {
    try {
      read();
    } catch (const std::exception& error) {
      spdlog::warn("The journal's line {} cannot be read: {}", line.id, error.what());
    } catch (const ActFault& fault) {
      spdlog::warn("The journal's line {} cannot be read: {}", line.id, fault.what);
    }
  }

  const ReplayCall& call_;
  Book book_;
};

// Those of `rang` as the list has them, which knows when they were told.
std::vector<Rung> Told(std::vector<Rung> rang, const RungList& list) {
  for (Rung& alarm : rang) {
    if (const Rung* known = list.Find(alarm.id)) alarm.told = known->told;
  }
  return rang;
}

void NameAll(std::vector<Rung>& alarms, const Book& book) {
  for (Rung& alarm : alarms) {
    if (const std::string* called = book.CalledAs(alarm.id)) alarm.called = *called;
  }
}

// Lines that only one of them has, or that say something else.
void AddDifferences(const Lines& then, const Lines& now, ReplayReport& report) {
  const auto add = [&report](const std::string& id, const Decided& line) {
    if (report.differences.size() >= kMostDifferences) return;
    report.differences.push_back(id);
    if (Holds(report.other_rules, line.at) || Holds(report.other_rules, line.raised))
      report.by_other_rules.push_back(id);
  };
  for (const auto& [id, line] : then) {
    const auto same = now.find(id);
    if (same == now.end() || same->second.body != line.body) add(id, line);
  }
  for (const auto& [id, line] : now) {
    if (!then.contains(id)) add(id, line);
  }
}

Instant BeginOf(Record& record, const rules::DayTurn& home, const ReplayCall& call) {
  const Instant first = record.First().value_or(call.from);
  if (call.whole) return first;
  Instant begin = call.from - kLongestMemory;
  // What stands in the span has the name of the instant at which it was raised, be it a year ago.
  if (call.other.empty()) {
    Journalled journalled(home, call);
    journalled.Read(record);
    for (const Rung& rung : journalled.rung.Standing(call.from, call.to, call.cave))
      begin = std::min(begin, std::min(rung.since, rung.raised) - kLongestMemory);
  }
  return std::max(first, begin);
}

}  // namespace

std::vector<std::string> ReplayReport::BareDifferences() const {
  std::vector<std::string> bare;
  for (const std::string& line : differences) {
    if (std::ranges::count(by_other_rules, line) == 0) bare.push_back(line);
  }
  return bare;
}

ReplayReport Replay(const std::string& database, const rules::DayTurn& home, const ReplayCall& call,
                    const std::atomic<bool>& stop) {
  const auto record = Record::Open(database);
  ReplayReport report;
  // Before the first reading nothing could have rung.
  report.from = std::max(call.from, record->First().value_or(call.from));
  report.to = std::min(call.to, record->Last().value_or(call.to) + Millis{1});
  report.worked_out_from = BeginOf(*record, home, call);
  Rehearsal rehearsal(home, call);
  record->ReadFacts(report.worked_out_from,
                    [&](const JournalLine& line, const Fact& fact) { rehearsal.TakeFact(line, fact); });
  rehearsal.Begin(report.worked_out_from);
  record->ReadInputs(report.worked_out_from, [&](const Committed& committed) {
    if (stop) throw ReplayStopped("The replay was stopped.");
    if (committed.at >= call.to) return false;
    rehearsal.Take(committed);
    return true;
  });
  rehearsal.AdvanceTo(report.to - Millis{1});
  Journalled journalled(home, call);
  journalled.Read(*record);
  report.then = Told(RangIn(journalled.TheBook(), call.from, call.to, call.cave), journalled.rung);
  report.now = rehearsal.rung.Raised(call.from, call.to, call.cave);
  report.rates_then = RatesOf(journalled.rung.Standing(report.from, report.to, call.cave), report.from, report.to);
  report.rates_now = RatesOf(rehearsal.rung.Standing(report.from, report.to, call.cave), report.from, report.to);
  report.readings = rehearsal.readings;
  NameAll(report.now, journalled.TheBook());
  report.compared = Compare(report.then, report.now);
  report.other_rules = journalled.rules.Others(report.from, report.to);
  if (call.other.empty()) AddDifferences(journalled.lines, rehearsal.decided, report);
  return report;
}

}  // namespace rindwatch
