// What the watch remembers. Everything here is written down by state_text, except what is marked as worked out.
#pragma once

#include <algorithm>
#include <bitset>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "rules/alarms/cadence.hpp"
#include "rules/alarms/delay.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/alarms/excursion.hpp"
#include "rules/alarms/long_memory.hpp"
#include "rules/alarms/wheel_classes.hpp"
#include "rules/alarms/window.hpp"
#include "rules/care/history.hpp"

namespace rindwatch::rules::watch {

// What a channel usually does. Temperature: how the 10-minute means of a day are spread, the day's mean, how fast the
// plant cools. Humidity: its normal.
struct Habit {
  DaySpread spread;
  LongMean<24, 7> day_mean;
  LongMean<24, 1> whole_day;  // of all air, also of what teaches nothing: what is told of the last day
  LongMean<24, 10> fall_rate;
  FallingLegs legs;
  LongMean<12, 14> humidity;
  std::optional<Instant> since;  // of the first reading
};

// Whether what a channel says can be so.
struct Doubt {
  Instant same_since;  // when the value that it repeats was first said
  DayMost equal_runs;  // longest run of equal values, in minutes
  bool stuck = false, wet = false;
  Delay dripping;     // humidity: near the end of the scale, and still
  double offset = 0;  // from the mean of its cave, learned
  bool offset_known = false;
  bool Any() const { return stuck || wet; }
};

// How long a channel is usually silent between two readings. One that speaks only when something changes has long gaps
// in calm hours and short ones when the door opens: its silence counts from the longest of a usual day, not from the
// last few. One that speaks at a pace of its own, and loses a message now and then, is missed by its pace.
struct UsualGaps {
  double typical = 0;  // milliseconds; the median, followed
  double paced = 1;    // share of the time in gaps that are not much longer than that, over about a day
  DayMost longest;     // minutes
  Millis usual{0};     // none for one with a pace

  // `told`: it was told as silence while it lasted. Of a channel with a pace that is no usual gap.
  void Learn(Millis gap, bool told, Instant at);
};

// One condition that is counted: its on-delay, how long it is back, and its extremes.
struct Counter {
  Delay on;
  Millis back{0};
  Instant since;
  double extreme = 0;
  Millis unjudged{0};  // of a slow sign: for how long it cannot be measured
  bool spent = false;  // of a slow sign: what it told is over, though its mean still holds it
};

// A channel of any kind that ought to mean something to the watch.
struct Channel {
  ChannelId id = 0;
  ProbeId probe = 0;
  ChannelKind kind = ChannelKind::kTemperature;
  std::optional<CaveId> cave;
  std::optional<Instant> heard;  // the last live reading, by the engine's instants
  Instant measured;              // the same reading's own time
  std::int64_t latest = 0;       // its value, milli-units
  Instant unbroken_since;        // from where on the window holds what was heard
  bool learns = true;            // false until the first reading after an absence: that gap is ours, not the probe's
  Cadence cadence;
  UsualGaps gaps;
  Window window;
  Habit habit;
  Doubt doubt;
  std::vector<Estimate> estimates;  // of a temperature channel: the wheels that its air reaches, by class
  std::optional<std::int64_t> fed;  // the minute until which they were followed
  double fed_with = 0;

  bool Judged() const { return kind == ChannelKind::kTemperature || kind == ChannelKind::kHumidity; }
  // Ought to speak all the time; a contact or a battery speaks when there is something to say.
  bool OughtToSpeak() const {
    return !IsContact(kind) && kind != ChannelKind::kBattery && kind != ChannelKind::kWeight;
  }
  double Latest() const { return static_cast<double>(latest) / 1000.0; }
  Millis MissedAfter() const { return std::max(cadence.MissedAfter(), gaps.usual); }
  Instant MissedAt() const { return *heard + MissedAfter(); }
  // What was heard at an instant that has not come yet, by a clock that was ahead, proves nothing about now.
  bool Speaks(Instant at) const { return heard && at < MissedAt() && *heard <= at + std::chrono::minutes{2}; }
  // Its window is full of what it said without a break: the air rules may lean on it.
  bool Settled(Instant at) const { return at - unbroken_since >= std::chrono::minutes{window.Minutes()}; }
};

// Only probes with a temperature or humidity channel in a cave: those that ought to speak all the time.
struct Probe {
  Instant quiet_since;  // last spoke, was hung, or was first listened for after an absence: patience counts from here
};

// How long air is back inside while an alarm stands: past the deadband, and by however little.
struct WayBack {
  Millis past{0}, inside{0};
};

// One side of one channel kind of one cave: beyond the edge, beyond the act limit, beyond the urgent one.
struct Side {
  Delay edge, act, urgent;
  Delay lone;  // one of two probes that contradict each other is beyond the edge
  WayBack way;
  std::optional<Instant> held;  // since when back, while boxes inside keep its alarm open
  Instant since;                // when `edge` began to count
  double dose = 0;
  Millis beyond{0};  // for so long, as the dose is counted
  double extreme = 0;
  bool out = false;    // beyond the edge, until back inside by the deadband
  bool shown = false;  // for the page: beyond the edge as it is written, until no longer beyond it at all
  // Still out when the alarm around this box ended: as long as it comes back nothing is counted.
  bool trails = false;
};

// Wheels of a class were seen within this limit. They ring only then: those whose stage has changed, or that were laid
// here warm, are a matter of the round.
struct SeenWithin {
  WheelClass kind;
  double limit = 0;
  bool operator==(const SeenWithin&) const = default;
};

// A step of a plan that is told, and whether its air comes to what it asks for.
struct StepWatch {
  std::string alarm;
  WayBack way;
};

struct AirWatch {
  Side high, low;
  Instant judged;           // the last minute that was judged
  Excursion warm, cold;     // temperature: an excursion that does not turn
  Delay wheel, cold_wheel;  // temperature: a wheel's own estimate beyond its limit
  Delay falls;              // temperature: fast, and beyond the cold edge
  double wheel_dose = 0;
  std::vector<SeenWithin> seen_within;
  std::optional<Figure> band;    // in force when the air was last judged
  std::optional<Figure> before;  // the one before it, until the air was inside the one of now
  Instant moved;                 // when
  Instant forgiven;              // since when there is one before it
  Side high_step, low_step;      // beyond the one of now while the one before it is forgiven
  std::vector<StepWatch> steps;  // those that stand, of both sides
  Delay apart;                   // its probes contradict each other
  // For so long, beyond what they usually do: a window full of a door's air is over by then.
  bool Contradicted(const Settings& s) const { return apart.beyond >= Minutes(s.disagree_unknown_after); }
};

// What a contact tells of water in a humidifier or on a floor.
struct WaterWatch {
  std::optional<Instant> since;  // dry, or standing
  std::optional<Instant> back;   // and as it should be again
};

// What is known of a plant by its power.
struct PlantWatch {
  double most = 0;  // watts, fading slowly: what it draws when it runs
  bool runs = false;
  Instant changed;       // when it began to run or to stand
  DayMost rests;         // longest, in minutes
  LongMean<2, 1> share;  // of the minutes in which it runs
};

// Nobody watched; how it was before, until the air has been heard again.
struct Absence {
  Instant from, to;
  double before = 0;
};

// A short excursion, to be known again.
struct Swing {
  Instant from;
  Millis lasts{0};
  double height = 0;  // K beyond the usual
  double shift = 0;   // points of humidity
};

// From when to when somebody was there, by word or by ticks.
struct Stay {
  Instant from, to;
};

// Who said "I am here", and until when that holds at the most.
struct Here {
  std::string keeper;  // empty: nobody knows who
  Instant until;
};

// What stands in a cave and what it asks of one kind of channel. Worked out from the facts.
struct Stake {
  struct Asking {
    WheelId wheel;
    std::optional<Figure> band;
  };
  std::optional<Figure> band, target;
  bool tender = false;  // a soft or blue cheese among them
  bool small = false;   // a wheel that follows the air in an hour or two
  std::vector<Asking> wheels;
  std::vector<WheelId> unsuited;
  // Temperature: the wheels that this cave's probes reach, by class and limits.
  struct ClassAsking {
    WheelClass kind;
    std::optional<Figure> band;
    std::vector<WheelId> wheels;
  };
  std::vector<ClassAsking> classes;
};

struct Cave {
  std::optional<CaveId> inside;
  DayTurn turn;
  std::optional<Figure> temperature_limit, humidity_limit;
  OwnSettings own;
  std::vector<AlarmKind> out_of_service;
  bool ready_cheese = false;
  std::optional<Instant> next_day;  // when the stages of its wheels are looked up again; none without wheels
  AirWatch temperature, humidity;
  Counter condensation, disagree, slow_fall, day_up, dry_normal, runs_on, stands_still, co2, ammonia;
  PlantWatch plant;
  WaterWatch humidifier, drain;
  std::vector<Here> here;  // the last who said so last
  // The latest of these, or of one who is out, until the end of it is told.
  std::optional<Instant> here_until, tended, door_open, door_shut;
  // When an alarm at act or above over the warmth here was over, the last one; the one from which on means of a day are
  // no news; and when one over dry air was.
  std::optional<Instant> ill_until, warmth_told, dry_told;
  std::optional<Instant> gas_over;  // when the last alarm of gas was
  // When the air that a keeper was asked after ("door ajar?") was last on its way back.
  std::optional<Instant> door_answered;
  // When the air was last so much drier than it used to be that its water must be gone, and since when it is so.
  std::optional<Instant> far_drier, far_drier_since;
  bool cooled_well_then = false;  // when it became so: its falls were about as quick as ever
  bool tended_judged = true;      // whether the air turned after the last round
  std::optional<Absence> absence;
  std::vector<Shape> shapes;  // the newest, oldest first; no more than kMostShapes
  // Short excursions while nobody was there, named or not: a defrost is known by its coming again. The newest, oldest
  // first; no more than kMostSwings.
  std::vector<Swing> swings;
  std::optional<Stay> stay;      // the last: "I am here" of one that shares its air, ticks of this one
  std::optional<Instant> goods;  // when wheels were last laid in from elsewhere

  static constexpr std::size_t kMostShapes = 24, kMostSwings = 24;

  // Worked out.
  Settings settings;
  Stake temperature_stake, humidity_stake;
  std::vector<ChannelId> temperature_channels, humidity_channels, other_channels;
  // While a minute is judged: what of its air several rules ask for.
  std::optional<double> humidity_now;

  AirWatch& Air(ChannelKind kind) { return kind == ChannelKind::kTemperature ? temperature : humidity; }
  const AirWatch& Air(ChannelKind kind) const { return kind == ChannelKind::kTemperature ? temperature : humidity; }
  Stake& StakeOf(ChannelKind kind) { return kind == ChannelKind::kTemperature ? temperature_stake : humidity_stake; }
  const Stake& StakeOf(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_stake : humidity_stake;
  }
  const std::vector<ChannelId>& Channels(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_channels : humidity_channels;
  }
  const std::optional<Figure>& Limit(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_limit : humidity_limit;
  }
};

struct Wheel {
  CaveId cave = 0;
  WheelHistory history;  // without acts and agreed cares; its plans without cares and words
  Grams weight;
  std::optional<Figure> own_temperature, own_humidity;
  Instant looked_up;  // the instant for which the figures below were worked out

  // Worked out.
  std::optional<Figure> temperature_band, humidity_band, temperature_target, humidity_target;
  int hardiness = 0;
  int age = 0;

  const std::optional<Figure>& Band(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_band : humidity_band;
  }
  const std::optional<Figure>& Target(ChannelKind kind) const {
    return kind == ChannelKind::kTemperature ? temperature_target : humidity_target;
  }
};

inline constexpr ChannelKind kJudgedKinds[] = {ChannelKind::kTemperature, ChannelKind::kHumidity};

}  // namespace rindwatch::rules::watch

namespace rindwatch::rules {

struct EngineState::Body {
  bool begun = false;                    // any input yet
  Instant now;                           // everything up to here is decided
  bool watching = true;                  // between Started and Stopped
  Instant stopped;                       // since when nobody watches, while nobody does
  std::vector<watch::Channel> channels;  // by id
  std::map<ProbeId, watch::Probe> probes;
  std::map<CaveId, watch::Cave> caves;
  std::map<WheelId, watch::Wheel> wheels;  // only those that lie in a cave and are not gone
  std::vector<Alarm> alarms;               // in the order raised

  // Worked out.
  std::bitset<static_cast<std::size_t>(kLastAlarmKind) + 1> standing;  // kinds of which an alarm is not over
  std::vector<std::shared_ptr<const Plan>> plans;  // as trimmed for the wheels; one object per version
  Instant wake;                                    // no deadline lies before it; may be too early
  bool found_later = false;                        // while deadlines of an absence are being decided
  std::map<watch::WheelClass, std::shared_ptr<const watch::ClassLags>> lags;

  // Most readings meet no alarm of a kind, however many wait to be seen.
  bool Stands(AlarmKind kind) const { return standing.test(static_cast<std::size_t>(kind)); }
  watch::Channel* FindChannel(ChannelId id);
  const watch::Channel* FindChannel(ChannelId id) const;
};

}  // namespace rindwatch::rules
