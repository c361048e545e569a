// The watch as a value: inputs and their instants in, decisions out. Live, restart and replay are this same call.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "rules/care/history.hpp"
#include "rules/ids.hpp"
#include "rules/reading.hpp"
#include "rules/time.hpp"
#include "rules/units.hpp"

namespace rindwatch::rules {

// Changes whenever the same inputs would give other decisions or the state's text another form.
inline constexpr int kRulesVersion = 3;

enum class AlarmKind { kTooWarm, kTooCold, kTooDry, kTooDamp, kProbeSilent };
std::string_view ToText(AlarmKind kind);  // "too warm"
std::optional<AlarmKind> AlarmKindFrom(std::string_view text);

enum class Severity : std::uint8_t { kHint = 1, kWatch = 2, kAct = 3, kUrgent = 4 };
std::string_view ToText(Severity severity);
std::optional<Severity> SeverityFrom(std::string_view text);

enum class CaveState { kInBand, kDrifting, kOutOfBand, kUnknown, kNotWatched };
std::string_view ToText(CaveState state);

// ---- Inputs: what the journal and the probes say. A fact replaces the one before it of the same subject. ----

struct CaveGiven {
  CaveId cave;
  std::optional<CaveId> inside;  // borrows that one's temperature
  DayTurn turn;
  // Limits typed in by the keeper win over the band of the stages.
  std::optional<Figure> temperature_limit, humidity_limit;
};
struct ChannelHung {  // a probe's channel measures in a cave from now on; no cave: taken down
  ChannelId channel;
  ProbeId probe;
  ChannelKind kind;
  std::optional<CaveId> cave;
};
// What a wheel asks of its cave: only what decides its stage (plans, starts, branches, undos of these, entry, end).
struct WheelGiven {
  WheelId wheel;
  std::optional<CaveId> cave;  // none: not in a cave of ours
  WheelHistory history;        // acts may be left empty
  Grams weight;                // 0: unknown
  // A band of its own, typed in by the keeper, wins over that of its stages, each channel by itself.
  std::optional<Figure> own_temperature{}, own_humidity{};
};
struct AlarmTaken {
  std::string alarm;  // AlarmChange::alarm
};
struct AlarmSetAside {
  std::string alarm;
  Instant until;
};
// The daemon began to watch; nobody watched since `watched_until` (none: since the last input). Deadlines that passed
// in an absence of up to 10 minutes are decided at their instants and marked as found later. A longer absence proves
// nothing about a probe or the air: only days begin and time aside runs out in it, and a silence counts from this
// start.
struct Started {
  std::optional<Instant> watched_until;
};
struct Stopped {};  // from here on nothing is decided until Started

using Input = std::variant<Reading, CaveGiven, ChannelHung, WheelGiven, AlarmTaken, AlarmSetAside, Started, Stopped>;

// ---- Decisions: typed facts, never sentences. ----

// Everything that is known of an alarm; a change carries the whole of it.
struct Alarm {
  std::string id;  // stable over replays: kind, subject and the instant it was raised
  AlarmKind kind;
  Severity severity = Severity::kWatch;
  CaveId cave = 0;
  std::optional<ProbeId> probe;  // of a silent probe
  Instant since;                 // when the condition began (the delay counts from here)
  Instant raised;
  std::optional<Instant> taken;
  std::optional<Instant> over;  // when its end was decided: an off-delay after it was back inside
  std::optional<Instant> aside_until;
  double value = 0;             // the mean that rang; for a silent probe the last value
  double extreme = 0;           // furthest from the band so far
  double dose = 0;              // degree-hours or point-hours beyond the band
  std::optional<Figure> band;   // the limits in force when it rang
  std::vector<WheelId> wheels;  // touched
  bool found_later = false;     // a deadline that passed while nobody watched
  bool Untaken() const { return !taken; }
  bool operator==(const Alarm&) const = default;
};

struct Decision {
  enum class Change {
    kRaised,
    kRaisedSeverity,  // it got worse: whoever took it, or set it aside, did so for the lesser thing; it asks again
    kTaken,
    kSetAside,
    kBack,  // the time it was set aside for has passed
    kOver,  // back inside for the off-delay, heard again, or no longer judged
  };
  Change change;
  Instant at;  // the deadline's instant, not the one at which the loop woke
  Alarm alarm;
  bool operator==(const Decision&) const = default;
};
std::string_view ToText(Decision::Change change);

// ---- What the page shows of a cave: the same mean in alarm and on the page. ----

struct ChannelView {
  ChannelKind kind;
  bool watched = false;        // a probe hangs here (or lends its temperature)
  bool borrowed = false;       // the temperature of the cave it stands inside
  bool silent = false;         // should speak and does not: no probe of this kind speaks
  bool settling = false;       // speaks, but not yet for a whole window: the air rules rest
  std::optional<double> mean;  // what is judged; degrees Celsius or percent
  std::optional<double> latest;
  std::optional<Instant> latest_at;
  std::optional<Figure> band;  // in force now; none: not judged, and the state says so as not watched
  std::optional<Figure> target;
  CaveState state = CaveState::kNotWatched;
  int side = 0;  // +1 warm or damp, -1 cold or dry, while drifting or out
};
struct CaveView {
  CaveId cave;
  CaveState state = CaveState::kNotWatched;  // the worse of its channels
  ChannelView temperature, humidity;
  std::vector<WheelId> does_not_suit;  // wheels whose band does not overlap the one in force
};

// The whole memory of the watch. Copyable; equal inputs make equal states.
class EngineState {
 public:
  EngineState();
  EngineState(const EngineState&);
  EngineState(EngineState&&) noexcept;
  EngineState& operator=(const EngineState&);
  EngineState& operator=(EngineState&&) noexcept;
  ~EngineState();

  CaveView View(CaveId cave, Instant at) const;
  // Raised and not both taken and over (taken as it stands now: what got worse is untaken again); the most severe
  // first, then the oldest.
  std::vector<Alarm> Alarms() const;
  // Versioned text. Readable only by the same kRulesVersion.
  std::string ToText() const;
  // None if the text is of another version or damaged.
  static std::optional<EngineState> FromText(std::string_view text);

  struct Body;
  Body& body() { return *body_; }
  const Body& body() const { return *body_; }

 private:
  std::unique_ptr<Body> body_;
};

// Takes in one input. First decides every deadline up to `at`, then the input. `at` never goes back: an earlier one
// counts as the last. Inputs of one instant come in the order of (at, channel). Passed over are readings that are not
// live, of a channel that hangs nowhere, or that no air can be. Whoever replays a crash and lines that were written
// while the daemon was down puts a Stopped before those lines, at the instant until which it watched.
std::vector<Decision> Step(EngineState& state, const Input& input, Instant at);
// Decides the deadlines up to `at`.
std::vector<Decision> Advance(EngineState& state, Instant at);
// The next instant at which something may be decided, or a view change, without an input; none: nothing waits.
std::optional<Instant> NextDeadline(const EngineState& state);

}  // namespace rindwatch::rules
