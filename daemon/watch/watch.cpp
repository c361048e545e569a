#include "daemon/watch/watch.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>
#include <boost/json.hpp>
#include <map>

#include "daemon/book/desk.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/round/ticks.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "daemon/watch/unseen.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch {

using rules::Decision;
using rules::Instant;
using rules::Millis;

namespace {

// Of the journal at a start: more than the book remembers, since it keeps some for longer.
constexpr std::size_t kLinesBack = 20 * Book::kMostNewest;

// Without a memory the engine is stepped through the longest span that it can learn from: 28 days, and a week.
constexpr Millis kLongestMemory = std::chrono::days{35};
constexpr Millis kLongestStanding = std::chrono::days{365};
constexpr Millis kBetweenSnapshots = std::chrono::hours{1};
// Hands grow faster and rooms are rearranged: what is older teaches nothing.
constexpr Millis kPaceWindow = std::chrono::days{90};
constexpr Millis kBetweenTries = std::chrono::minutes{1};

void Append(std::vector<Decision>& all, std::vector<Decision> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

// A fact that cannot be read is said in the log and passed over; the rest of the book stands.
void TakeFact(Book& book, const JournalLine& line, const Fact& fact) {
  try {
    book.Take(line, fact);
  } catch (const ActFault& fault) {
    spdlog::error("The journal's line {} cannot be read: {}", line.id, fault.what);
  } catch (const std::exception& error) {
    spdlog::error("The journal's line {} cannot be read: {}", line.id, error.what());
  }
}

JournalLine LineOf(const Decision& decision, boost::json::object record) {
  JournalLine line = OwnLine("alarm", LineIdOf(decision), std::move(record), decision.at);
  line.cave = decision.alarm.cave;
  line.wheels = decision.alarm.wheels;
  return line;
}

// Which of them is sound the rules say: the first of a thermometer that has just got power is not.
constexpr int kMostHeld = 10;

// The first words of each channel that were held since `last`, in the order in which they were said: the clock by which
// they came was right, and nobody believed it.
boost::json::array FirstHeld(Store& store, const Committed& last, Instant now) {
  std::map<rules::ChannelId, int> counts;
  std::vector<rules::Reading> first;
  store.ReadInputs(last.position, std::nullopt, [&](const Committed& kept) {
    const auto* readings = std::get_if<std::vector<rules::Reading>>(&kept.what);
    if (!readings) return;
    for (const rules::Reading& reading : *readings) {
      const bool since = reading.measured_at > last.at && reading.measured_at <= now;
      const bool sound = reading.source == rules::TimeSource::kHeld && !Has(reading.marks, rules::Mark::kRepeat);
      if (since && sound && ++counts[reading.channel] <= kMostHeld) first.push_back(reading);
    }
  });
  std::ranges::stable_sort(first, {}, &rules::Reading::measured_at);
  boost::json::array heard;
  for (const rules::Reading& reading : first)
    heard.push_back({{"channel", reading.channel}, {"at", ToMillis(reading.measured_at)}, {"milli", reading.milli}});
  return heard;
}

// As far back as anything is learned before now, and before what stands was raised: it has the name of that instant,
// and whoever took it took it under that name. Longer ago than a year is too long ago for a start.
Instant RecallSince(Store& store, Instant now) {
  std::map<std::string, Instant> standing;
  store.ReadFacts([&](const JournalLine&, const Fact& fact) {
    if (fact.subject_kind != "alarm" || fact.what != "change" || !fact.value.is_object()) return;
    const auto alarm = MaybeAlarmFrom(fact.value.as_object());
    if (!alarm) return;
    if (alarm->over)
      standing.erase(alarm->id);
    else
      standing[alarm->id] = std::min(alarm->since, alarm->raised);
  });
  Instant since = now - kLongestMemory;
  for (const auto& [id, raised] : standing) {
    if (raised >= now - kLongestStanding) since = std::min(since, raised - kLongestMemory);
  }
  return since;
}

}  // namespace

Watch::Watch(Store& store, const rules::Clock& clock, Scheduler& scheduler, rules::DayTurn home)
    : store_(store), clock_(clock), scheduler_(scheduler), book_(std::move(home)) {}

void Watch::Begin(std::optional<Instant> ahead_until) {
  const auto last = store_.ReadLast();
  boost::json::array heard;
  if (ahead_until && last) heard = FirstHeld(store_, *last, Now());
  const auto decisions = Recall();
  store_.Start([this](const Committed& committed) { OnCommitted(committed); });
  // What was decided but not yet written when the daemon went down; what was written is known by its id.
  Record(decisions);
  for (const Decision& end : EndsOfUnseen(book_, engine_, decisions, std::max(Now(), at_)))
    Write(LineOf(end, UnseenRecordOf(end)), [this, end] { Tell(end); });
  const Instant now = Now();
  for (const Follow& follow : TakingsThatFollow(book_, engine_)) {
    // At once, before anybody is told of it; and in the journal, so that every replay hears it too.
    rules::Step(engine_, rules::AlarmTaken{follow.alarm, {}}, std::max(now, at_));
    boost::json::object body{{"alarm", follow.alarm}, {"after", follow.before}};
    JournalLine line =
        OwnLine("take", fmt::format("take {} after {}", follow.alarm, follow.before), std::move(body), now);
    line.keeper = follow.keeper;
    Write(std::move(line));
  }
  // What is decided from here on, until the next start, these rules decided.
  boost::json::object body{{"watched_until", nullptr}, {"rules", rules::kRulesVersion}};
  // The saved state may have gone on after the newest input.
  // What was kept by a clock that was ahead says nothing of who watched.
  if (last) body["watched_until"] = ToMillis(ahead_until ? last->at : std::max(last->at, at_));
  if (ahead_until) body["ahead_until"] = ToMillis(*ahead_until);
  if (!heard.empty()) body["heard"] = std::move(heard);
  Write(OwnLine("started", fmt::format("started {}", ToMillis(now)), std::move(body), now));
  ArmDeadline();
  ArmSnapshot();
}

void Watch::Look() {
  Recall();
  rules::Advance(engine_, Now());
  store_.Start([](const Committed&) {});
}

// The same steps as live: from the newest snapshot, or from as far back as anything is learned.
std::vector<Decision> Watch::Recall() {
  auto snapshot = store_.ReadSnapshot(rules::kRulesVersion);
  if (snapshot) {
    if (auto state = rules::EngineState::FromText(snapshot->text)) {
      engine_ = std::move(*state);
      position_ = snapshot->position;
      at_ = snapshot->at;
    } else {
      spdlog::warn("The saved state of the watch cannot be read; it is worked out again from the readings.");
      snapshot.reset();
    }
  }
  const Instant since = snapshot ? Now() - kLongestMemory : RecallSince(store_, Now());
  std::int64_t taken_to = snapshot ? snapshot->position : 0;
  bool is_before = true;
  store_.ReadFacts([&](const JournalLine& line, const Fact& fact) {
    // The lines from before are the first ones: a wrong clock between them must not let any fall out.
    is_before = is_before && (snapshot ? line.position <= snapshot->position : line.received_at < since);
    if (!is_before) return;
    Take(line, fact);
    taken_to = std::max(taken_to, line.position);
  });
  // With facts from before the span and no memory of it, what the engine decides again is not what rang at the time.
  const bool complete = snapshot || taken_to == 0;
  if (!snapshot) {
    for (const rules::Input& input : book_.InputsOfAll()) rules::Step(engine_, input, since);
  }
  std::vector<Decision> decisions;
  store_.ReadInputs(position_, snapshot ? std::nullopt : std::optional(since), [&](const Committed& committed) {
    if (const auto* readings = std::get_if<std::vector<rules::Reading>>(&committed.what)) {
      Append(decisions, StepThrough(*readings, committed.at));
    } else if (const auto* line = std::get_if<JournalLine>(&committed.what); line && line->position > taken_to) {
      Append(decisions, StepThrough(*line, TakeLine(*line), committed.at));
    }
    position_ = committed.position;
    at_ = committed.at;
  });
  for (JournalLine& line : store_.ReadNewestLines(kLinesBack)) book_.Remember(std::move(line));
  if (!snapshot && !DecidedByTheseRules(book_)) DropWhatIsPast(book_, engine_, decisions);
  // But what the journal does not know to be over is.
  if (!complete) {
    std::erase_if(decisions, [this](const Decision& decision) {
      return decision.change != Decision::Change::kOver || !StandsInBook(book_, decision.alarm.id);
    });
  }
  return decisions;
}

std::vector<Decision> Watch::StepThrough(const std::vector<rules::Reading>& readings, Instant at) {
  std::vector<Decision> decisions;
  for (const rules::Reading& reading : readings) {
    if (Has(reading.marks, rules::Mark::kLive)) Append(decisions, rules::Step(engine_, reading, at));
  }
  return decisions;
}

std::vector<Decision> Watch::StepThrough(const JournalLine& line, const std::vector<Fact>& facts, Instant at) {
  std::vector<Decision> decisions;
  for (const rules::Input& input : book_.InputsOf(line, facts)) Append(decisions, rules::Step(engine_, input, at));
  return decisions;
}

void Watch::Take(const JournalLine& line, const Fact& fact) {
  TakeFact(book_, line, fact);
  today_.Saw(line, fact);
}

std::vector<Fact> Watch::TakeLine(const JournalLine& line) {
  try {
    auto facts = FactsOf(line);
    for (const Fact& fact : facts) Take(line, fact);
    return facts;
  } catch (const std::exception& error) {
    spdlog::error("{} \"rindwatch check\" says more.", error.what());
    return {};
  }
}

void Watch::OnCommitted(const Committed& committed) {
  std::vector<Decision> decisions;
  try {
    decisions = Judge(committed);
  } catch (const std::exception& error) {
    judged_whole_ = false;
    spdlog::error("What was kept at {} could not be judged: {}", ToText(committed.at), error.what());
  }
  // A tick is kept nowhere; what is decided at it is decided again from the inputs before it.
  if (!std::holds_alternative<Committed::Tick>(committed.what)) position_ = committed.position;
  at_ = committed.at;
  Record(decisions);
  for (WatchListener* listener : listeners_) listener->OnJudged();
  ArmDeadline();
}

std::vector<Decision> Watch::Judge(const Committed& committed) {
  if (const auto* readings = std::get_if<std::vector<rules::Reading>>(&committed.what)) {
    return StepThrough(*readings, committed.at);
  }
  const auto* line = std::get_if<JournalLine>(&committed.what);
  if (!line) return rules::Advance(engine_, committed.at);
  const auto facts = TakeLine(*line);
  book_.Remember(*line);
  auto decisions = StepThrough(*line, facts, committed.at);
  for (WatchListener* listener : listeners_) listener->OnLine(*line, facts);
  return decisions;
}

void Watch::Record(const std::vector<Decision>& decisions) {
  for (const Decision& decision : decisions) {
    // That an alarm was taken or set aside is said by the keeper's own line, which is on disk.
    if (decision.change == Decision::Change::kTaken || decision.change == Decision::Change::kSetAside) {
      Tell(decision);
      continue;
    }
    Write(LineOf(decision, RecordOf(decision)), [this, decision] { Tell(decision); });
  }
}

void Watch::Tell(const Decision& decision) {
  for (WatchListener* listener : listeners_) listener->OnDecisions({decision});
}

// `then` comes when the store has answered: the line is on disk, or the store refuses and says so itself. A bell must
// ring although a disk is full. NOLINTNEXTLINE(performance-unnecessary-value-param): both live on in the answer.
void Watch::Write(JournalLine line, std::function<void()> then) {
  auto facts = FactsOf(line);
  ++on_their_way_;
  store_.Append(line, std::move(facts), [this, line, then = std::move(then)](const AppendResult& result) {
    --on_their_way_;
    if (result.kind == AppendResult::Kind::kRefused) {
      unwritten_.push_back(line);
      scheduler_.WakeAt("unwritten lines", Now() + kBetweenTries, [this] {
        for (JournalLine& waiting : std::exchange(unwritten_, {})) Write(std::move(waiting));
      });
    }
    if (result.kind == AppendResult::Kind::kConflict) {
      // Decided live and, after a crash, once more as found later: the first stays.
      spdlog::debug("The journal has another line under \"{}\"; the newer one is not written.", line.id);
    }
    then();
  });
}

const DayRound& Watch::TodaysRound() const { return today_.Round(Now(), ThePace()); }

const rules::Pace& Watch::ThePace() const {
  const rules::Date today = book_.Home().DayOf(Now());
  if (pace_day_ != today) {
    pace_ = rules::Pace::From(TicksSince(book_, Now() - kPaceWindow));
    pace_day_ = today;
  }
  return pace_;
}

void Watch::ArmDeadline() {
  const auto next = rules::NextDeadline(engine_);
  if (!next) return scheduler_.Forget("engine");
  // Through the store, so that what was kept before the deadline is judged before it.
  scheduler_.WakeAt("engine", std::max(*next, at_), [this] { store_.AskTick(); });
}

void Watch::ArmSnapshot() {
  scheduler_.WakeAt("snapshot", Now() + kBetweenSnapshots, [this] {
    ArmSnapshot();
    SaveSnapshot([] {});
  });
}

void Watch::SaveSnapshot(std::function<void()> done) {
  // A state that has decided what the journal does not hold would never decide it again.
  if (!unwritten_.empty() || on_their_way_ > 0 || !judged_whole_) return done();
  store_.SaveSnapshot({position_, at_, rules::kRulesVersion, engine_.ToText()},
                      [done = std::move(done)](bool) { done(); });
}

void Watch::End(std::function<void()> done) {
  scheduler_.Forget("snapshot");
  scheduler_.Forget("engine");
  scheduler_.Forget("unwritten lines");
  const Instant now = Now();
  JournalLine line = OwnLine("stopped", fmt::format("stopped {}", ToMillis(now)), {}, now);
  store_.Append(std::move(line), {}, [this, done = std::move(done)](const AppendResult&) { SaveSnapshot(done); });
}

}  // namespace rindwatch
