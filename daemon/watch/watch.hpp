// The watch: takes in what the store kept, lets the rules judge it, writes what they decide into the journal and tells
// whoever listens. Owns the open book and the engine's state. The loop's thread alone.
#pragma once

#include <deque>
#include <functional>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/clock/scheduler.hpp"
#include "daemon/round/today.hpp"
#include "daemon/store/store.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// What changed, for pages and for the broker. Calls come from the watch, in the loop's thread.
class WatchListener {
 public:
  virtual ~WatchListener() = default;
  // Readings or time were judged: what a cave shows may have changed.
  virtual void OnJudged() = 0;
  // A line is on disk and in the book.
  virtual void OnLine(const JournalLine& line, const std::vector<Fact>& facts) = 0;
  virtual void OnDecisions(const std::vector<rules::Decision>& decisions) = 0;
};

class Watch {
 public:
  Watch(Store& store, const rules::Clock& clock, Scheduler& scheduler, rules::DayTurn home);

  // Several may listen; they outlive the watch or are taken out.
  void Tell(WatchListener& listener) { listeners_.push_back(&listener); }
  void Untell(WatchListener& listener) { std::erase(listeners_, &listener); }

  // Reads the book, steps the engine through what it has not seen and begins to take in. Call once, before readings
  // come. `ahead_until`: what this machine's clock had shown before it was set back, just now.
  void Begin(std::optional<rules::Instant> ahead_until = std::nullopt);
  // Reads the book and works out how things stand, and writes nothing: for the command line.
  void Look();
  // Writes that the watch ends and saves the state; `done` when both are on disk, or when they cannot be.
  void End(std::function<void()> done);

  const Book& TheBook() const { return book_; }
  const rules::EngineState& Engine() const { return engine_; }
  const rules::Clock& TheClock() const { return clock_; }
  rules::Instant Now() const { return clock_.Wall(); }
  rules::CaveView View(rules::CaveId cave) const { return engine_.View(cave, Now()); }
  // The cares of now, to the minute; good until the next call or act.
  const DayRound& TodaysRound() const;
  // What stands beside it; call it after that.
  const Outlook& TodaysOutlook() const { return today_.TheOutlook(); }
  std::vector<rules::ComingDay> ComingDays(int day_count) const { return today_.ComingDays(day_count); }
  // How long this house's keepers take; learned anew once a day.
  const rules::Pace& ThePace() const;
  // The instant of the newest input. A clock that shows less was ahead once: until it has caught up nothing is judged.
  rules::Instant JudgedUntil() const { return at_; }
  // Lines of our own that the store refused and that wait to be written.
  std::size_t Unwritten() const { return unwritten_.size(); }

 private:
  std::vector<rules::Decision> Recall();
  void Take(const JournalLine& line, const Fact& fact);
  // The facts of a line, taken into the book; none, and said in the log, if the line cannot be read.
  std::vector<Fact> TakeLine(const JournalLine& line);
  std::vector<rules::Decision> Judge(const Committed& committed);
  void OnCommitted(const Committed& committed);
  std::vector<rules::Decision> StepThrough(const std::vector<rules::Reading>& readings, rules::Instant at);
  std::vector<rules::Decision> StepThrough(const JournalLine& line, const std::vector<Fact>& facts, rules::Instant at);
  void Record(const std::vector<rules::Decision>& decisions);
  void Tell(const rules::Decision& decision);
  void Write(
      JournalLine line, std::function<void()> then = [] {});
  void ArmDeadline();
  void ArmSnapshot();
  void SaveSnapshot(std::function<void()> done);

  Store& store_;
  const rules::Clock& clock_;
  Scheduler& scheduler_;
  Book book_;
  rules::EngineState engine_;
  std::int64_t position_ = 0;  // of the last input that the engine has seen
  rules::Instant at_;          // its instant
  std::vector<WatchListener*> listeners_;
  std::deque<JournalLine> unwritten_;
  std::size_t on_their_way_ = 0;  // lines of our own that the store has not answered
  bool judged_whole_ = true;      // false once an input broke off half-way: its state is not worth saving
  mutable Today today_{book_};
  mutable std::optional<rules::Date> pace_day_;  // on which it was learned
  mutable rules::Pace pace_;
};

}  // namespace rindwatch
