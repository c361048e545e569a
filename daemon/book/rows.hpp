// What the book holds of caves, lots, wheels and probes: the present of the facts, and their past where it counts.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "daemon/book/life.hpp"
#include "daemon/book/wheel_facts.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/care/history.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

using LotId = std::int64_t;

// A kind of cave is the word that the page shows.
enum class CaveKind { kCounter, kBox, kFridge, kRoom };
std::string_view ToText(CaveKind kind);
std::optional<CaveKind> CaveKindFrom(std::string_view text);

// Typed in by the keeper; none: the band of the stages.
struct CaveLimits {
  std::optional<rules::Figure> temperature, humidity;
};

// A probe that hangs where it hung but is not judged: in a salt jar, waiting for a battery.
struct ProbeService {
  bool out = false;
  std::string why;
};

// How the watch judges a cave, beside its limits: what was changed of the usual, the kinds that are not judged, whether
// finished cheese lies here.
struct CaveWatching {
  rules::OwnSettings own;
  std::vector<rules::AlarmKind> out_of_service;
  bool ready_cheese = false;
};

struct CaveRow {
  rules::CaveId id = 0;
  rules::ActId act;  // that made it
  CaveKind kind = CaveKind::kRoom;
  std::optional<rules::CaveId> inside;
  std::vector<Since<std::string>> names;  // in the order of the journal
  std::vector<Since<CaveLimits>> limits;
  std::vector<Since<CaveWatching>> watching;
  std::vector<Since<std::vector<std::string>>> shelf_orders;
  std::vector<Since<std::set<unsigned>>> care_days;
  // The newest of each that no undo took away.
  std::string name;
  CaveLimits limits_now;
  CaveWatching watching_now;
  std::vector<std::string> shelves_now;  // in walking order, as far as a keeper gave one
  std::set<unsigned> care_days_now;      // 1 Monday to 7 Sunday
};

struct LotRow {
  LotId id = 0;
  std::string name;
  std::string plan_id;
  bool split_off = false;  // a keeper took it off another and named it
};

struct Place {
  std::optional<rules::CaveId> cave;
  std::string shelf;
  int number = 0;  // counted from the door on its shelf; 0: from before numbers were kept
};

// What was found at a shelf, and where the wheels that have it lay.
struct FaultSeen {
  std::string what;
  Place place;
};

// How a wheel left, and to whom; empty: not said.
struct Leaving {
  std::string how, to;
};

struct WheelRow {
  rules::WheelId id = 0;
  rules::ActId act;                  // that entered it
  LotId lot = 0;                     // the newest that no undo took away
  int number = 0;                    // among the wheels of its family
  rules::Grams weight;               // 0: unknown
  std::shared_ptr<WheelLife> life;   // written on by the book alone; null: nothing was said of it yet
  std::vector<Since<Place>> places;  // in the order of the journal
  std::vector<Since<Leaving>> gone;
  std::vector<Since<LotId>> lots;
  std::vector<Since<Hold>> holds;
  std::vector<Since<Cut>> cuts;
  std::vector<Since<OwnBand>> bands;
  std::vector<Since<rules::Grams>> weighings;
  std::vector<Since<std::optional<Mark>>> marks;                        // none: a look found that all of it is gone
  std::vector<Since<std::optional<rules::QualifyingRule>>> qualifying;  // none: no rule any more
  std::vector<Since<rules::Vouch>> vouches;
  std::vector<Since<Release>> releases;
  std::vector<Since<std::string>> laters;  // questions that were put off until the next day

  const rules::WheelHistory& History() const;
};
inline const rules::WheelHistory& WheelRow::History() const {
  static const rules::WheelHistory nothing;
  return life ? life->history : nothing;
}

// The text of a plan's version, as the journal keeps it.
struct KeptPlan {
  rules::ActId act;
  rules::Instant at;
  std::string keeper;  // empty where one keeps alone
  std::string text;
  bool is_new = false;  // a keeper made it; else it came with the first wheel that follows it
};

struct ProbeChannel {
  rules::ChannelId id = 0;
  rules::ChannelKind kind = rules::ChannelKind::kTemperature;
};

// What a keeper said of a probe: its name and how its messages are read.
struct ProbeDescription {
  std::string name;
  sensors::Route route;
};

struct ProbeRow {
  rules::ProbeId id = 0;
  rules::ActId act;  // that hung it first
  std::vector<Since<ProbeDescription>> described;
  std::vector<ProbeChannel> known_channels;  // of all descriptions: past readings stay theirs
  // As described now.
  std::string name;
  sensors::Route route;
  std::vector<ProbeChannel> channels;
  std::vector<Since<std::optional<rules::CaveId>>> hangs;
  std::vector<Since<ProbeService>> service;
};

}  // namespace rindwatch
