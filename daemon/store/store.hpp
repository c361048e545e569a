// The store's door. Nobody else holds SQL on readings or journal; the layout at rest can change behind it.
//
// Threads: one writer thread owns the writing connection and everything that is kept passes through its bounded
// queue; one reader thread has a read-only connection for history and exports. Results are posted to the loop
// through `Post`, in the order of the commits, so that what the loop sees is the order in which a replay will see it.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <variant>
#include <vector>

#include "daemon/book/line.hpp"
#include "rules/clock.hpp"
#include "rules/reading.hpp"
#include "sensors/sink.hpp"

namespace rindwatch {

// What the keeper can do something about: which file, what was expected, what was found, what to do.
struct StoreError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

// Demo and real life never mix: a database remembers what made it and refuses the other.
enum class Purpose { kServe, kTrial };

// Posted to the loop by the writer, in the order of positions. `at` never goes back but by SetBack.
struct Committed {
  struct Tick {};  // an answer to AskTick: everything kept before it has been posted
  std::int64_t position = 0;
  rules::Instant at;  // the writer's clock when it was kept; stored, so that a replay has it too
  std::variant<std::vector<rules::Reading>, JournalLine, Tick> what;
};

struct AppendResult {
  enum class Kind {
    kWritten,   // on disk
    kKnown,     // the same id with the same body: `answer` is the first answer
    kConflict,  // the same id with another body: nothing changed
    kRefused,   // the disk is full or failing; `why` says so
  };
  Kind kind = Kind::kRefused;
  std::string answer;
  std::string why;
  std::int64_t position = 0;
};

// One column of a drawing: the readings of a span of `width`.
struct Bucket {
  rules::Instant from;
  std::int64_t count = 0;
  double min = 0, max = 0, mean = 0;
};

struct LastKnown {
  std::vector<std::pair<rules::ChannelId, rules::Instant>> newest;  // measured_at per channel
  std::vector<std::pair<std::string, std::uint64_t>> fingerprints;  // of the last kept message per topic
};

struct Snapshot {
  std::int64_t position = 0;  // of the last input that is in it
  rules::Instant at;
  int rules_version = 0;
  std::string text;
};

// A notice as it is kept. The texts of `way`, `kind` and `state` are stored.
struct NoticeRow {
  std::int64_t number = 0;  // in the order in which they were made, given by the store; 0: not kept yet
  std::string key;          // what it is about; two rows never have one
  rules::Instant made_at;
  std::string hearer, way, address, kind, alarm;
  rules::Instant asked;  // when the alarm began to ask, or the list's day began
  int nth = 0;
  std::string letter;  // JSON
  std::string state;
  int tries = 0;
  std::optional<rules::Instant> next_at, done_at;
  std::int64_t within = 0;  // the notice that it went with; 0: with none
  std::string why;          // one sentence
};

struct StoreHealth {
  bool writing = true;  // false: the last write failed; `why` says what and what to do
  std::string why;
  std::size_t queued = 0;
  std::int64_t readings_kept = 0, lines_kept = 0, refused = 0;  // since it was opened
  std::int64_t bytes = 0;                                       // of the database's files
};

class Store : public sensors::ReadingSink {
 public:
  struct Settings {
    std::string path;  // the database file; its folder must exist and be ours to write
    Purpose purpose = Purpose::kServe;
    rules::Millis sync_window{30'000};  // a power cut takes at most the readings of this span
    std::size_t queue_bound = 4096;     // waiting batches and lines
  };
  using Post = std::function<void(std::function<void()>)>;  // runs a function in the loop's thread

  // Takes the lock (one writer, ever), migrates, reads the last position. Throws StoreError with one sentence.
  static std::unique_ptr<Store> Open(const Settings& settings, const rules::Clock& clock, Post post);
  // Stops the threads after what waits is written and synced.
  ~Store() override = default;

  // ---- before Start: synchronous, in the order of positions ----
  virtual LastKnown ReadLastKnown() = 0;
  virtual void ReadFacts(const std::function<void(const JournalLine&, const Fact&)>& visit) = 0;  // line without body
  virtual std::optional<Snapshot> ReadSnapshot(int rules_version) = 0;
  // Readings (marks and all) and journal lines kept after `after_position` and, if given, not before `since`, as they
  // were posted.
  virtual void ReadInputs(std::int64_t after_position, std::optional<rules::Instant> since,
                          const std::function<void(const Committed&)>& visit) = 0;
  virtual std::optional<Committed> ReadLast() = 0;  // the newest kept: until then somebody watched
  virtual std::vector<JournalLine> ReadNewestLines(std::size_t count) = 0;  // oldest first
  // The clock was ahead and is right now: what was kept after `wall` bears times that never were. From now on no
  // reading of it is given to anybody and no alarm of it stands; lines are given as of `wall`. Nothing is deleted.
  virtual void SetBack(rules::Instant wall) = 0;

  // Begins to post; everything kept from now on reaches `inbox`, in the loop's thread.
  virtual void Start(std::function<void(Committed)> inbox) = 0;

  // ---- any thread ----
  sensors::KeepResult Keep(const sensors::Batch& batch) noexcept override = 0;
  virtual StoreHealth Health() const = 0;

  // ---- the loop's thread; completions are posted back to it ----
  // Writes line, its wheels and its facts in one transaction and syncs. The Committed of a written line is posted
  // before its completion. The line needs an id; the store gives the position.
  virtual void Append(JournalLine line, std::vector<Fact> facts, std::function<void(AppendResult)> done) = 0;
  // The stored line of an id, to answer a repeat before anything is judged anew.
  virtual void Find(const std::string& id, std::function<void(std::optional<JournalLine>)> done) = 0;
  virtual void AskTick() = 0;
  virtual void SaveSnapshot(Snapshot snapshot, std::function<void(bool saved)> done) = 0;
  // Writes rows in one transaction and syncs: a row without a number is new (one whose key is known gets the number of
  // the first and changes nothing), any other takes the place of the row of its number. `done` gets the numbers in the
  // order of the rows; none: refused.
  virtual void WriteNotices(std::vector<NoticeRow> rows, std::function<void(std::vector<std::int64_t>)> done) = 0;
  // Proof that the writer answers: `done` comes back through its queue.
  virtual void Ping(std::function<void()> done) = 0;
  // Proof that what is kept now would be written: the file's write lock is taken and given back, and nothing written,
  // for a card's sake. False: another program holds it for longer than a write waits. A full disk is no hindrance:
  // there the store answers by refusing.
  virtual void TryToWrite(std::function<void(bool may)> done) = 0;

  // ---- the loop's thread; answered by the reader ----
  // Readings that are no repeats, in the spans [from + k width, from + (k + 1) width) that hold any; ascending, raw
  // values in the channel kind's unit. Empty too where the disk cannot be read. Questions that wait at Close are
  // dropped.
  virtual void History(rules::ChannelId channel, rules::Instant from, rules::Instant to, rules::Millis width,
                       std::function<void(std::vector<Bucket>)> done) = 0;
  // Lines before `before_position` (0: the newest), newest first.
  virtual void JournalPage(std::int64_t before_position, std::size_t count,
                           std::function<void(std::vector<JournalLine>)> done) = 0;

  // Notices that are still open, and those made since an instant; ascending.
  virtual void NoticesSince(rules::Instant since, std::function<void(std::vector<NoticeRow>)> done) = 0;
  // Notices before a number (0: the newest), newest first.
  virtual void NoticePage(std::int64_t before, std::size_t count, std::function<void(std::vector<NoticeRow>)> done) = 0;

  // ---- stopping: waits for the queue, syncs, checkpoints, closes; afterwards Keep refuses ----
  virtual void Close() = 0;
};

// What `check` finds: each difference between the summing tables and what the journal gives, in words.
// Read-only; works beside a running daemon.
struct CheckReport {
  std::int64_t lines = 0, facts = 0, readings = 0;
  std::vector<std::string> faults;
};
using FactsOfLine = std::function<std::vector<Fact>(const JournalLine&)>;
CheckReport CheckDatabase(const std::string& path, const FactsOfLine& facts_of);

}  // namespace rindwatch
