// The watch as a value: inputs and their instants in, decisions out. Live, restart and replay are this same call.
#pragma once

#include <algorithm>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "rules/alarms/settings.hpp"
#include "rules/care/history.hpp"
#include "rules/ids.hpp"
#include "rules/reading.hpp"
#include "rules/time.hpp"
#include "rules/units.hpp"

namespace rindwatch::rules {

enum class AlarmKind {
  kTooWarm,
  kTooCold,
  kTooDry,
  kTooDamp,
  kProbeSilent,
  kCondensation,
  kProbeStuck,
  kProbeWet,
  kProbesDisagree,
  kBatteryLow,
  kPlantWeak,  // the plant does not keep up: the early sign, while the band still holds
  kDoorOpen,
  kPowerGone,
  kCarbonDioxide,
  kAmmonia,
  kHumidifierDry,
  kDrainBlocked,
  kUnwatched,  // nobody watched for a while; told at the start, over with the next reading of its air
};
inline constexpr AlarmKind kLastAlarmKind = AlarmKind::kUnwatched;
std::string_view ToText(AlarmKind kind);  // "too warm"
// People breathe it.
constexpr bool IsGas(AlarmKind kind) { return kind == AlarmKind::kCarbonDioxide || kind == AlarmKind::kAmmonia; }
std::optional<AlarmKind> AlarmKindFrom(std::string_view text);

enum class Severity : std::uint8_t { kHint = 1, kWatch = 2, kAct = 3, kUrgent = 4 };
std::string_view ToText(Severity severity);
std::optional<Severity> SeverityFrom(std::string_view text);

// By which rule an alarm rang; several words of one kind. Stored by their text.
enum class Why {
  kBand,           // the judged mean lies beyond the band
  kDose,           // little, for long: degree-hours of the wheel itself
  kPlanStep,       // the band moved with what lies here, and the air is as it was
  kNotTurning,     // the air left its usual and does not turn back as it always did
  kNotTurningYet,  // it does not turn as soon as it ought to, and nothing is learned of this cave yet
  kWheel,          // the wheel's own estimate is past its limit
  kOneProbe,       // one probe says so and another contradicts it
  kReadyCheese,    // finished cheese, kept cold
  kBelowNormal,    // drier than this cave has been for two weeks
  kSlowFall,       // the plant cools more slowly than in the week before
  kDayMeanUp,      // the mean of the day is up
  kRunsOn,         // the plant runs on and the air warms all the same
  kStandsStill,    // the plant draws nothing while the air warms
  kAfterRound,     // the air does not turn back after a round: a door ajar
  kContact,        // a contact says so
  kTogether,       // all probes of one cave fell silent at once
  kEverywhere,     // all probes of the house did: power, network or broker
  kOnlyTheWatch,   // while nobody watched, the air stayed as it was
  kWarmedMeanwhile,
  kUnheard,      // nobody watched, and for long after nothing was heard either
  kFreezesSoon,  // the air falls so fast that it is at freezing before long
};
inline constexpr Why kLastWhy = Why::kFreezesSoon;
std::string_view ToText(Why why);
std::optional<Why> WhyFrom(std::string_view text);

// By what an alarm ended. Stored by its text.
enum class Ending {
  kReturned,        // what it tells of went: the air came back past its dead band, the probe spoke, the door was shut
  kInside,          // its air has long been inside its band, if only near the edge
  kStruck,          // a keeper struck its kind here
  kTakenDown,       // what it was measured by hangs there no more, or not in service
  kAskedOtherwise,  // of a step of a plan: what lies here has come to ask for something else again
  kNotAsked,        // nothing that lies there asks for it any more
  kNotKnown,        // for long there was nothing to go by
};
inline constexpr Ending kLastEnding = Ending::kNotKnown;
std::string_view ToText(Ending ending);
std::optional<Ending> EndingFrom(std::string_view text);

// Known shapes of the air: named, not rung. Stored by their text.
enum class ShapeKind {
  kDefrost,
  kDoor,
  kDelivery,  // warm wheels came in
  kYourRound,
  kWarmed,  // warm air at once, and nothing tells whence
};
std::string_view ToText(ShapeKind kind);

enum class CaveState { kInBand, kDrifting, kOutOfBand, kUnknown, kNotWatched };
std::string_view ToText(CaveState state);
// From calm to loud; what is not watched never hides what something else says.
int WeightOf(CaveState state);

// ---- Inputs: what the journal and the probes say. A fact replaces the one before it of the same subject. ----

struct CaveGiven {
  CaveId cave;
  std::optional<CaveId> inside;  // borrows that one's temperature
  DayTurn turn;
  // Limits typed in by the keeper win over the band of the stages.
  std::optional<Figure> temperature_limit, humidity_limit;
  OwnSettings own{};                        // limits and delays changed for this cave
  std::vector<AlarmKind> out_of_service{};  // not judged here until taken out of this list
  bool ready_cheese = false;                // finished cheese lies here: cold is the rule
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
  // It was laid into this cave a moment ago; what is said of another time, or later, proves nothing about the air.
  bool laid_now = false;
};
struct AlarmTaken {
  std::string alarm;  // AlarmChange::alarm
  // When the keeper said so, which may be long before it arrived. None: with this input. What has got worse since then
  // was not taken.
  std::optional<Instant> tapped{};
};
struct AlarmSetAside {
  std::string alarm;
  Instant until;
};
// "I am here": door, temperature and humidity below urgent are quiet in the cave, and in what it stands in or holds,
// for as long as the settings say or until "I am out". Gas, power and what is urgent are not.
struct KeeperHere {
  CaveId cave;
  std::string keeper{};  // initials; empty: nobody knows whose
};
// Of a keeper who is known: whoever else is there stays. Without a name nobody is there any more.
struct KeeperOut {
  CaveId cave;
  std::string keeper{};
};
// A care was ticked off: proof that somebody was at the door.
struct KeeperTended {
  CaveId cave;
};
// The daemon began to watch; nobody watched since `watched_until` (none: since the last input). An absence proves
// nothing of a probe: a silence counts only while somebody listens. Other deadlines that passed in one of up to 10
// minutes are decided at their instants and marked as found later; a longer one proves nothing of the air either: only
// days begin and time aside runs out in it, and a silence that was not told counts anew. It is since the last word.
struct Started {
  std::optional<Instant> watched_until;
};
struct Stopped {};  // from here on nothing is decided until Started

using Input = std::variant<Reading, CaveGiven, ChannelHung, WheelGiven, AlarmTaken, AlarmSetAside, KeeperHere,
                           KeeperOut, KeeperTended, Started, Stopped>;

// ---- Decisions: typed facts, never sentences. ----

// How long until it matters for wheels of one size and band, if nothing changes.
struct Matter {
  static constexpr Millis kNotWithin = std::chrono::hours{48};  // as far as anything is foreseen
  bool IsFar() const { return soonest >= kNotWithin; }
  Millis soonest{0};             // 0: already; kNotWithin: not within that
  std::optional<Millis> latest;  // none: perhaps never
  std::vector<WheelId> wheels;
  bool operator==(const Matter&) const = default;
};

// The furthest that wheels of one size came themselves while the alarm lasted, by the history of their air.
struct OwnFurthest {
  double value = 0;  // degrees Celsius
  std::vector<WheelId> wheels;
  bool operator==(const OwnFurthest&) const = default;
};

// The coldest that wheels of one size were, as a whole, on one of the keeper's days while the alarm lasted.
struct ColdDay {
  Date day;
  double low = 0;  // degrees Celsius
  std::vector<WheelId> wheels;
  bool operator==(const ColdDay&) const = default;
};

// What one of several probes says.
struct ProbeSaid {
  ProbeId probe = 0;
  ChannelKind kind = ChannelKind::kTemperature;
  double value = 0;  // the mean of its own window
  bool operator==(const ProbeSaid&) const = default;
};

// Everything that is known of an alarm; a change carries the whole of it.
struct Alarm {
  std::string id;  // stable over replays: kind, subject and the instant it was raised
  AlarmKind kind;
  Severity severity = Severity::kWatch;
  CaveId cave = 0;
  std::optional<ProbeId> probe;  // of a silent, stuck or wet probe, or one with a low battery
  Instant since;                 // when the condition began (the delay counts from here)
  Instant raised;
  Instant asked;  // when it last began to ask: raised, worse, or no longer quiet
  std::optional<Instant> taken;
  std::optional<Instant> over;  // when its end was decided: an off-delay after it was back inside
  // Once it is over: since when it was back inside, or had turned. None where no off-delay was waited for. Of a time
  // that nobody watched its end, which is known from the first.
  std::optional<Instant> back_since{};
  std::optional<Instant> inside_since{};  // while it stands: since when its air lies in the band again, if only just
  Ending ending = Ending::kReturned;      // of one that is over
  bool waited = false;  // of a silence: it was time to act by night already, and it was kept for the morning
  std::optional<Instant> aside_until;
  double value = 0;                           // the mean that rang; of gas, a battery, dew and slow signs as it is now;
                                              // for a silent probe the last value
  double extreme = 0;                         // furthest from the band so far
  double dose = 0;                            // degree-hours or point-hours beyond the band
  Millis beyond{0};                           // for how long it was beyond, of all the time that the alarm stands
  Millis judged{0};                           // of air: for how long since it was raised its air was known
  std::optional<Figure> band;                 // the limits in force, of air that is judged by them
  std::vector<WheelId> wheels;                // touched
  bool found_later = false;                   // a deadline that passed while nobody watched
  Why why = Why::kBand;                       // by the loudest rule
  std::vector<Matter> matters{};              // too warm: the wheels that it comes to first, first
  std::vector<ColdDay> cold_days{};           // too cold: what each day cost is for each wheel's own rule to say
  std::optional<double> before{}, warmest{};  // power and unwatched: the air before; the warmest that a wheel can be
  bool suppressed = false;                    // quiet by design, while a keeper is there or the probe is wet
  std::optional<AlarmKind> cause{};           // too dry, too damp: the contact that tells why, as the kind it would be
  std::vector<ProbeSaid> said{};              // of probes that contradict each other: who says what
  std::vector<OwnFurthest> own{};             // too warm, too cold
  // Another alarm that tells of the same event: that one is taken and named, and this one ends without a word to
  // whoever heard of it. Empty: none.
  std::string told_by{};
  bool Folded() const { return !told_by.empty(); }
  bool Untaken() const { return !taken && !Folded(); }
  // Over only because nobody judges it any more: it may be as it was.
  bool Unjudged() const {
    return over && (ending == Ending::kStruck || ending == Ending::kTakenDown || ending == Ending::kAskedOtherwise ||
                    ending == Ending::kNotKnown);
  }
  // Of air, of one that is over: for how long since it was raised nobody knew its air.
  Millis Unknown() const { return std::max(*over - raised - judged, Millis{0}); }
  // Of one that is over: until when it lasted, without the off-delay.
  Instant LastedUntil() const { return back_since.value_or(*over); }
  // A bell may ring for it.
  bool Rings() const { return !taken && !over && !aside_until && !suppressed; }
  bool operator==(const Alarm&) const = default;
};

struct Decision {
  enum class Change {
    kRaised,
    kRaisedSeverity,  // it got worse: whoever took it, or set it aside, did so for the lesser thing; it asks again
    kTaken,
    kSetAside,
    kBack,     // the time it was set aside for has passed, or it is no longer quiet by design
    kStays,    // no longer quiet, and told before: by what is over and it is not, or taken. It asks nothing anew
    kQuieted,  // quiet by design from now on
    kOver,     // back inside for the off-delay, heard again, or no longer judged
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
  bool watched = false;   // a probe hangs here (or lends its temperature)
  bool borrowed = false;  // the temperature of the cave it stands inside
  bool silent = false;    // should speak and does not: no probe of this kind speaks
  bool settling = false;  // speaks, but not yet for a whole window: the air rules rest
  bool doubted = false;   // speaks, but stuck or wet: nothing is known by it
  // Its probes contradict each other. Unless all of them lie on one side of the band's edges the state is unknown.
  bool contradicted = false;
  std::optional<double> lowest, highest;  // of those that do
  std::optional<double> mean;             // what is judged; degrees Celsius or percent
  std::optional<double> latest;
  std::optional<Instant> latest_at;
  std::optional<Figure> band;  // in force now; none: not judged, and the state says so as not watched
  std::optional<Figure> target;
  CaveState state = CaveState::kNotWatched;
  int side = 0;   // +1 warm or damp, -1 cold or dry, while drifting or out
  int trend = 0;  // +1 rising, -1 falling: by the last minutes and the whole window alike
};
// A class of wheels in a cave and what its own temperature is by the air's history.
struct WheelsView {
  double core = 0, rind = 0;  // degrees Celsius
  bool settling = false;      // the history is too short yet
  std::vector<WheelId> wheels;
};
struct Shape {
  ShapeKind kind;
  Instant from, until;
  bool operator==(const Shape&) const = default;
};
struct CaveView {
  CaveId cave;
  CaveState state = CaveState::kNotWatched;  // the worse of its channels
  ChannelView temperature, humidity;
  std::vector<WheelId> does_not_suit;  // wheels whose band does not overlap the one in force
  std::vector<WheelsView> wheels;      // by the probes of this cave, or of the one whose temperature it borrows
  std::vector<Shape> shapes;           // of the last days, oldest first
  std::optional<Instant> quiet_until;  // "I am here", or somebody was a moment ago
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
