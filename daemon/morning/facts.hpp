// What the morning list says, as facts: for the terminal, the mail and whoever else sends it. The text is made of these
// and the words file alone.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/api/cave_sentence.hpp"
#include "daemon/words/bar.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/care/cadence.hpp"
#include "rules/round/bring.hpp"
#include "rules/round/late.hpp"
#include "rules/round/round.hpp"

namespace rindwatch::morning {

using rules::CareKind;
using rules::Date;
using rules::LocalTime;

// An alarm that lasts.
struct Alarm {
  std::string cave;
  rules::AlarmKind kind = rules::AlarmKind::kTooWarm;
  rules::Why why = rules::Why::kBand;
  LocalTime since;
  std::chrono::minutes lasts{0};
  std::optional<LocalTime> until{};  // of a time that nobody watched: its end, which is past when it is told
  bool hint = false;                 // it asks for nobody
  std::optional<double> value;       // the mean now, in the unit of the kind
  std::optional<double> latest{};    // the last reading, where it lies far from that
  std::optional<rules::Figure> band;
  std::string band_for{};                   // "1 washed rind": who asks for it, where others there do not
  bool was_out = false;                     // the mean has been beyond the band
  bool never_left = false;                  // told before it could be
  bool inside = false;                      // and is well within it again
  bool eases = false;                       // and is on its way back
  std::optional<double> ends_at{};          // it is back in the band, and has to come to this before the alarm can end
  std::optional<LocalTime> inside_since{};  // since when, in either case
  int trend = 0;                            // of the mean now: 1 rising, -1 falling
  bool taken = false;
  std::string taken_by;                   // initials; empty: one keeps alone
  std::optional<LocalTime> taken_before;  // when, before it got worse and asked anew
  struct Touched {
    int count = 0;
    std::string what;  // "bloomies", "wrapped"
    std::string place;
    std::string when;     // "in 1 h 45 to 2 h 45"; empty: not known
    std::string own{};    // "at the core at most about 15.8 °C"; empty: not known
    double grams = 0;     // of one of them; 0: not known
    std::string state{};  // "holding"; empty: of several
  };
  std::vector<Touched> touched;
  std::string who;                 // who may be in there, a sentence; empty: there is no question of that
  std::vector<std::string> facts;  // sentences: what a contact tells of its cause, which probe says what
  std::vector<std::string> first;  // sentences of the words file
  bool of_people = false;          // gas, or nobody knows of it: told first, taken or not
  bool acts = false;               // at act or above
  bool urgent = false;             // it asks as that; of gas by its figure of now or for want of one, taken or not
  std::optional<double> last{};    // of gas of which nobody knows now: the last figure
};

// The night of a day is from six in the evening before it to nine in the morning.
inline constexpr std::chrono::hours kEvening{18}, kMorning{9};

// What rang and is over.
struct PastLine {
  LocalTime at;  // when it began: maybe long before the night in which it ended
  std::string text;
};

struct Line {
  std::string place;
  std::vector<CareKind> kinds;
  std::string care;  // said instead of the kinds: "brush outside"
  int count = 0;
  std::string lot;  // empty where it does not show
  std::string family;
  int day = 0;                              // of the part
  std::optional<rules::StartKind> since{};  // in the first days of a later part: what they are counted from
  bool drying = false;
  int minutes = 0;  // 0: not told
  rules::CareState state = rules::CareState::kDue;
  std::vector<CareKind> done_kinds;  // in part
  std::vector<CareKind> skipped_kinds;
  std::optional<Date> late_since;
  std::vector<rules::LookFirst> look_first;
  std::optional<rules::NewCadence> new_cadence;
  std::optional<rules::Figure> then{};  // what it wants once this is done, where that is quite another warmth
  int cut = 0;
  bool two_people = false;
  std::optional<Bar> barred;  // by what, as of now
  bool away = false;
  bool evening = false;
  bool past_plan = false;
  std::string reason;  // of a skip
  // Of a part of a lot on its shelf: their numbers from the door.
  std::vector<int> numbers;
  // Of wheels that come last: why.
  std::optional<rules::FaultKind> mark;
  bool held = false;
  // Agreed at a fault of other wheels.
  struct Found {
    std::string what;  // a word of the faults
    std::string place;
  };
  std::vector<Found> found_at;
};

struct Question {
  std::string place;
  std::string text;
  std::string lot;
  std::string family;
  int day = 0;
  std::vector<std::string> answers;  // "dry", "not yet"
};

// In working order. Of each entry one is set.
struct Entry {
  std::optional<Line> line;
  std::optional<Question> question;
};

struct Section {
  rules::RindClass rind = rules::RindClass::kFreshAndWhite;
  bool marked = false;
  std::vector<rules::Change> change;
  std::vector<Entry> entries;
};

struct Wash {
  int salt_grams = 0;
  int water_ml = 0;
  std::vector<std::pair<std::string, int>> additions{};  // name and mL
  std::vector<std::string> places{};                     // where its wheels lie, in working order
};

struct Bring {
  std::vector<Wash> washes;
  int cloths = 0;
  std::vector<rules::Tool> tools;
  std::string own_brush_for;  // "B3"; empty: not said
  bool two_people = false;
  bool mask = false;
};

struct Cave {
  std::string name;
  rules::CaveState state = rules::CaveState::kNotWatched;
  // Of one that is not watched, what of it.
  enum class Unwatched { kAll, kHumidity, kJudging } unwatched = Unwatched::kAll;
  bool damp_unseen = false;  // a box whose wheels' humidity nobody measures, however warm it is
  bool damp_judged = true;   // its humidity, where that is measured
  bool of_air = true;        // what drifts or left its band: the temperature, else the humidity
  int side = 0;              // -1 cold or dry, 1 warm or damp
  std::optional<double> temperature, humidity;
  std::optional<double> latest{};   // the last reading of the temperature, where it lies far from the mean
  int trend = 0;                    // of the temperature: 1 rising, -1 falling, where it is worth saying
  bool has_lid = false;             // a box
  std::vector<std::string> gas;     // what each gas is that is measured there
  bool empty = false;               // no wheel lies in it
  std::string why_unknown{};        // "since 01:40: probe Shelf silent"
  bool back = false;                // in band, while an alarm of its air still stands
  bool back_now = false;            // out by the mean of half an hour alone, and nothing rings
  bool called = false;              // an alarm stands that calls it too warm, too dry ...
  std::optional<LocalTime> out_by;  // of what drifts
  // What is asked of air that is out of it and that no alarm calls so, as of wheels that it does not suit.
  std::optional<rules::Figure> keep{};
  std::vector<std::pair<LocalTime, LocalTime>> unknown{};  // of the night
};

struct NextLine {
  Date day;
  std::string place;
  std::vector<CareKind> kinds;
  int count = 0;
  int minutes = 0;
};

// What may be done early.
struct Early {
  std::string place;
  std::vector<CareKind> kinds;
  Date due;
};

struct ComingDay {
  Date day;
  int minutes = 0;
  std::vector<CareKind> kinds;  // of its longest line
  std::string place;
};

struct List {
  LocalTime at;                       // when it was made, by the keeper's clock
  Date day;                           // whose round it is
  bool is_today = true;               // of today, as it stands; else of another day or instant
  bool expected = false;              // a day to come
  bool trial = false;                 // invented data
  std::vector<std::string> troubles;  // of the watch itself, a sentence each
  std::vector<Alarm> alarms;          // most severe first
  // What is over since the last list, by when it began.
  std::vector<PastLine> before;  // before the night
  std::vector<PastLine> night;
  std::vector<PastLine> since;  // whenever it began: it ended after the night
  Bring bring;
  std::vector<Section> sections;  // of what is on the list
  int left = 0;                   // lines that are due and can be done
  BarredLines barred;             // lines that are due and barred: in no sum
  int questions = 0;
  int minutes = 0;                 // changes counted in
  std::vector<std::string> ready;  // which wheels came into their ready days, or out of them: a sentence each
  std::vector<Early> early;
  std::vector<NextLine> next;  // the days to come, if nothing is due
  std::vector<Cave> caves;
  std::vector<CaveNews> news;                  // what the subject says of them, as the page says it on top
  std::optional<ComingDay> tomorrow, busiest;  // the busiest of the days after tomorrow, if it is worth saying
};

}  // namespace rindwatch::morning
