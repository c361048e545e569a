// What the book holds of caves, lots, wheels and probes: the present of the facts, and their past where it counts.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/care/history.hpp"
#include "sensors/route.hpp"

namespace rindwatch {

using LotId = std::int64_t;

// A kind of cave is the word that the page shows.
enum class CaveKind { kCounter, kBox, kFridge, kRoom };
std::string_view ToText(CaveKind kind);
std::optional<CaveKind> CaveKindFrom(std::string_view text);

// A value that a line of the journal gives from an instant on, unless that line is undone.
template <typename T>
struct Since {
  rules::Instant from;
  rules::ActId act;
  T value;
};

// Typed in by the keeper; none: the band of the stages.
struct CaveLimits {
  std::optional<rules::Figure> temperature, humidity;
};

struct CaveRow {
  rules::CaveId id = 0;
  rules::ActId act;  // that made it
  CaveKind kind = CaveKind::kRoom;
  std::optional<rules::CaveId> inside;
  std::vector<Since<std::string>> names;  // in the order of the journal
  std::vector<Since<CaveLimits>> limits;
  std::string name;       // the newest that no undo took away
  CaveLimits limits_now;  // likewise
};

struct LotRow {
  LotId id = 0;
  std::string name;
  std::string plan_id;
};

struct Place {
  std::optional<rules::CaveId> cave;
  std::string shelf;
};

struct WheelRow {
  rules::WheelId id = 0;
  rules::ActId act;  // that entered it
  LotId lot = 0;
  int number = 0;       // among the wheels of its family
  rules::Grams weight;  // 0: unknown
  rules::WheelHistory history;
  std::vector<Since<Place>> places;  // in the order of the journal
  std::vector<Since<std::string>> gone;
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
};

}  // namespace rindwatch
