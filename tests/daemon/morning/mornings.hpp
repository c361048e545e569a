// Three mornings for the tests of what a list says.
#pragma once

#include <chrono>

#include "daemon/morning/columns.hpp"
#include "daemon/morning/left.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/morning/text.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/moments.hpp"
#include "tests/catch.hpp"

namespace rindwatch::morning {

using enum CareKind;
using rules::Change;
using rules::MakeDate;
using rules::RindClass;
using std::chrono::hours;
using std::chrono::minutes;

// Three mornings of IH and TR: a fridge with two boxes, a counter, a cellar. Invented.
inline LocalTime At(int day, int hour, int minute) {
  return LocalTime{MakeDate(2026, 11, 1)} + std::chrono::days{day - 1} + hours{hour} + minutes{minute};
}

inline Entry Does(const char* place, std::vector<CareKind> kinds, int count, const char* lot, int day, int taking) {
  Line line;
  line.place = place;
  line.kinds = std::move(kinds);
  line.count = count;
  line.lot = lot;
  line.day = day;
  line.minutes = taking;
  return {std::move(line), {}};
}
inline Entry WasDue(Entry entry, Date day) {
  entry.line->late_since = day;
  entry.line->state = rules::CareState::kLate;
  return entry;
}

inline Bring TwoWashes(std::vector<rules::Tool> tools) {
  Bring bring;
  bring.washes = {{16, 500, {}}, {16, 500, {}}};
  bring.cloths = 3;
  bring.tools = std::move(tools);
  bring.mask = true;
  return bring;
}

inline Cave Stands(const char* name, rules::CaveState state, std::optional<double> air = {},
                   std::optional<double> damp = {}) {
  Cave cave;
  cave.name = name;
  cave.state = state;
  cave.temperature = air;
  cave.humidity = damp;
  return cave;
}
inline Cave BoxTwo() {
  Cave box = Stands("Box 2", rules::CaveState::kNotWatched);
  box.has_lid = true;
  return box;
}

inline List Thursday() {
  List list;
  list.at = At(26, 6, 30);
  list.day = MakeDate(2026, 11, 26);
  list.left = 7;
  list.minutes = 20;
  list.bring = TwoWashes({rules::Tool::kSoftBrush});
  Entry drying = Does("Counter", {kTurn}, 1, "222", 1, 0);
  drying.line->drying = true;
  Entry brushed = WasDue(Does("B1", {kBrush, kTurn}, 9, "208", 61, 6), MakeDate(2026, 11, 23));
  brushed.line->look_first = {rules::LookFirst::kDusty};
  list.sections = {
      {RindClass::kFreshAndWhite,
       false,
       {},
       {Does("Box 1", {kTurn, kPat}, 6, "221", 8, 1), Does("Box 1", {kWrap}, 4, "218", 12, 2)}},
      {RindClass::kNaturalAndPressed,
       false,
       {Change::kGloves, Change::kCloth},
       {drying, Does("A1", {kWash, kTurn}, 9, "220", 6, 5), Does("A2", {kTurn}, 14, "214", 26, 2), brushed}},
      {RindClass::kWashed,
       false,
       {Change::kGloves, Change::kCloth, Change::kWash},
       {Does("Box 2", {kWash, kTurn}, 2, "217", 17, 1)}}};
  Cave box = Stands("Box 1", rules::CaveState::kDrifting, {}, 95);
  box.of_air = false;
  box.side = 1;
  box.has_lid = true;
  box.out_by = At(26, 10, 0);
  list.caves = {Stands("Fridge", rules::CaveState::kInBand, 12.4, 79), box, BoxTwo(),
                Stands("Counter", rules::CaveState::kNotWatched),
                Stands("Cellar", rules::CaveState::kInBand, 11.6, 87)};
  list.news = {{"Fridge", rules::CaveState::kInBand}, {"Box 1", rules::CaveState::kDrifting, false, 1}};
  list.tomorrow = ComingDay{MakeDate(2026, 11, 27), 9, {kWash}, "A1"};
  list.busiest = ComingDay{MakeDate(2026, 11, 28), 31, {kBrush, kTurn}, "B3"};
  return list;
}

inline List Monday() {
  List list;
  list.at = At(30, 6, 30);
  list.day = MakeDate(2026, 11, 30);
  list.early = {{"A2", {kTurn}, MakeDate(2026, 12, 1)}};
  list.next = {{MakeDate(2026, 12, 1), "A1", {kWash, kTurn}, 9, 5},
               {MakeDate(2026, 12, 1), "A2", {kTurn}, 14, 2},
               {MakeDate(2026, 12, 3), "Box 2", {kWash, kTurn}, 2, 1}};
  list.caves = {Stands("Fridge", rules::CaveState::kInBand, 12.3, 78),
                Stands("Box 1", rules::CaveState::kInBand, 12.4, 92), BoxTwo(),
                Stands("Counter", rules::CaveState::kNotWatched),
                Stands("Cellar", rules::CaveState::kInBand, 11.5, 86)};
  return list;
}

inline Alarm TooWarm() {
  Alarm alarm;
  alarm.cave = "Fridge";
  alarm.kind = rules::AlarmKind::kTooWarm;
  alarm.since = At(28, 4, 20);
  alarm.lasts = minutes{130};
  alarm.value = 15.9;
  alarm.band = rules::Figure{11, 14, ""};
  alarm.touched = {{6, "bloomies", "Box 1", "in 1 h 45 to 2 h 45"},
                   {4, "wrapped", "Box 1", "in 2 h 45 to 4 h 45"},
                   {2, "washed", "Box 2", "13:00 to 18:00"}};
  alarm.first = {"Shut the door. Ajar since 04:05.", "Listen: does the plant run? Do not open it.",
                 "Still warm at 08:00: carry Box 1 to the cellar."};
  return alarm;
}

inline List Saturday() {
  List list;
  list.at = At(28, 6, 30);
  list.day = MakeDate(2026, 11, 28);
  list.left = 8;
  list.questions = 1;
  list.minutes = 31;
  list.alarms = {TooWarm()};
  list.night = {{At(27, 22, 10), "Fridge: defrost, 18 min. The cheese did not feel it."},
                {At(28, 1, 40), "Cellar: probe silent to 03:20. That stays unknown."}};
  list.bring = TwoWashes({rules::Tool::kSoftBrush, rules::Tool::kOwnBrush, rules::Tool::kOil});
  list.bring.own_brush_for = "B3";
  Entry cut = WasDue(Does("B1", {kBrush, kTurn}, 9, "208", 63, 7), MakeDate(2026, 11, 23));
  cut.line->cut = 1;
  Entry mites = Does("B3", {kBrush}, 3, "205", 77, 3);
  mites.line->care = "brush outside";
  mites.line->numbers = {2, 6, 7};
  mites.line->mark = rules::FaultKind::kMiteDust;
  list.sections = {{RindClass::kFreshAndWhite, false, {}, {Does("Box 1", {kTurn, kPat}, 6, "221", 10, 1)}},
                   {RindClass::kNaturalAndPressed,
                    false,
                    {Change::kGloves, Change::kCloth},
                    {Entry{{}, Question{"Counter", "Dry to the touch?", "222", "", 3, {"dry", "not yet"}}},
                     Does("Counter", {kTurn}, 1, "222", 0, 0), Does("A1", {kWash, kTurn}, 9, "220", 8, 6),
                     Does("A2", {kTurn}, 14, "214", 28, 2), cut, Does("B3", {kBrush, kTurn}, 11, "205", 77, 8)}},
                   {RindClass::kWashed,
                    false,
                    {Change::kGloves, Change::kCloth, Change::kWash},
                    {Does("Box 2", {kWash, kTurn}, 2, "217", 19, 1)}},
                   {RindClass::kNaturalAndPressed, true, {Change::kGloves, Change::kBrush, Change::kMask}, {mites}}};
  Cave fridge = Stands("Fridge", rules::CaveState::kOutOfBand, 15.9, 75);
  fridge.side = 1;
  fridge.called = true;
  Cave box = Stands("Box 1", rules::CaveState::kInBand, 13.6, 92);
  box.trend = 1;
  Cave cellar = Stands("Cellar", rules::CaveState::kInBand, 11.6, 87);
  cellar.unknown = {{At(28, 1, 40), At(28, 3, 20)}};
  list.caves = {fridge, box, BoxTwo(), Stands("Counter", rules::CaveState::kNotWatched), cellar};
  return list;
}

}  // namespace rindwatch::morning
