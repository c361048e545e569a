// The ageing plan of a family, as data: parts counted from start events, stages with target and band, cares with a
// cadence. A plan is immutable once read; an edit is a new version.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace rindwatch::rules {

// A span with the place it comes from. The unit is that of the field that holds it.
struct Figure {
  double low = 0;
  double high = 0;
  std::string source;  // "common practice" where there is none
  bool operator==(const Figure&) const = default;
};

// The kinds of work on a rind. Stored by their text.
enum class CareKind {
  kTurn,
  kWash,
  kBrush,
  kPat,
  kRub,
  kSalt,
  kWipe,
  kOil,
  kCoat,
  kPierce,
  kWrap,
  kMove,
  kLook,
  kWeigh,
  kWax,
  kBandage,
  kTaste
};
inline constexpr CareKind kLastCareKind = CareKind::kTaste;
std::string_view ToText(CareKind kind);  // "turn"
std::optional<CareKind> CareKindFrom(std::string_view text);

// What a part can be counted from. Stored by their text.
enum class StartKind { kMade, kSalted, kDry, kEnteredBox, kEnteredCave, kPierced, kWrapped, kEnteredColdStore, kWaxed };
inline constexpr StartKind kLastStartKind = StartKind::kWaxed;
std::string_view ToText(StartKind kind);  // "entered box"
std::optional<StartKind> StartKindFrom(std::string_view text);

// How a rind looks to a keeper who does not know the family's name. Stored by their text.
enum class RindClass { kFreshAndWhite, kNaturalAndPressed, kWashed, kBlue };
std::string_view ToText(RindClass rind);
std::optional<RindClass> RindClassFrom(std::string_view text);

// How far a wheel is while a stage lasts.
enum class WheelState { kDrying, kRindForming, kRipening, kReady, kHolding };
std::string_view ToText(WheelState state);
std::optional<WheelState> WheelStateFrom(std::string_view text);

struct EveryDays {
  int days = 1;
  bool operator==(const EveryDays&) const = default;
};
struct TimesAWeek {
  int times = 1;  // 1 to 7, in whole days spread evenly
  bool operator==(const TimesAWeek&) const = default;
};
struct OnceOnDay {
  int day = 0;  // of the part
  bool operator==(const OnceOnDay&) const = default;
};
struct MorningAndEvening {
  bool operator==(const MorningAndEvening&) const = default;
};
struct OnlyTogether {  // no cadence of its own: comes only with the care that brings it
  bool operator==(const OnlyTogether&) const = default;
};
using Cadence = std::variant<EveryDays, TimesAWeek, OnceOnDay, MorningAndEvening, OnlyTogether>;

// What is dripped into a wash beside salt and boiled, cooled water.
struct WashAddition {
  std::string name;  // "cider"
  double ml_per_litre = 0;
  std::string source;
  bool operator==(const WashAddition&) const = default;
};

// A wash as a recipe; mixed for one round and poured away after it.
struct Wash {
  Figure salt;  // grams in 100 g of the finished liquid
  std::vector<WashAddition> additions;
  std::string note;
  bool operator==(const Wash&) const = default;
};

struct Care {
  std::vector<CareKind> kinds;   // one; more are alternate kinds, asked in this order
  std::vector<CareKind> brings;  // "wash with turn": a doing of the wash is a doing of these too
  Cadence cadence;
  std::optional<int> tolerance;  // whole days, shorter than the interval; none: by the interval
  std::string note;              // for the keeper, in plain words; may be empty
  std::string source;
  std::optional<Wash> wash{};           // what the cloth is dipped into
  std::vector<std::string> cautions{};  // shown where the care is done
  bool operator==(const Care&) const = default;
};

struct Stage {
  std::string name;  // "first week"
  WheelState state = WheelState::kDrying;
  int first_day = 0;                                           // of the part, both ends in the stage
  std::optional<int> last_day;                                 // none: until a later part begins, or for ever
  std::optional<Figure> temperature_target, temperature_band;  // degrees Celsius
  std::optional<Figure> humidity_target, humidity_band;        // percent
  std::vector<Care> cares;                                     // in the order of the lines of a wheel
  std::string source;                                          // of its days
  bool counts = true;  // do its days count towards a qualifying age? Drying days may not
  bool operator==(const Stage&) const = default;
};

// Another road from a day on: the stages up to the day are shared. Asked from `asked_from` until answered.
struct BranchOption {
  std::string name;                    // "keep on"
  std::vector<Stage> stages;           // follow the shared stages of the part without a gap; empty: ends the plan
  std::optional<Figure> ready_days{};  // of who takes this road; none: as the plan says
  bool operator==(const BranchOption&) const = default;
};
struct Branch {
  std::string question;  // "Eat young, keep on?"
  int asked_from = 0;    // day of the part
  std::vector<BranchOption> options;
  std::string default_option;
  bool operator==(const Branch&) const = default;
};

struct Part {
  StartKind start = StartKind::kMade;
  // For every part but the first: its start is a question in the round from this day of the part before.
  std::optional<int> asked_from;
  std::string question;  // "Dry to the touch?"; empty: the part begins with the first doing of the care it is named for
  std::optional<Figure> usual_days;  // how long after the start of the part before it usually begins
  std::vector<Stage> stages;
  std::optional<Branch> branch;  // its options' stages follow `stages`
  bool operator==(const Part&) const = default;
};

// The care whose first doing begins the part; none: it is begun by the yes to its question, or it is the first part.
std::optional<CareKind> BegunBy(const Part& part);

struct Plan {
  int format = 1;
  std::string id;  // "pressed-semi-hard"
  int version = 1;
  std::string family;      // "Pressed semi-hard, brine-washed"
  std::string rind_words;  // "pale, pressed, bare": the family by its rind, for the first question
  RindClass rind = RindClass::kNaturalAndPressed;
  // How delicate: the lower is judged first where bands do not overlap (soft 0, blue 1, semi-hard 2, hard 3).
  int hardiness = 2;
  std::vector<Part> parts;
  std::optional<Figure> ready_days;         // a window, never a day
  StartKind ready_from = StartKind::kMade;  // what its days are counted from
  std::vector<std::string> cautions;
  bool operator==(const Plan&) const = default;
};

// One fault of a plan file, in the keeper's words.
struct PlanFault {
  int line = 0;       // 1-based; 0 if it concerns the whole file
  std::string field;  // "parts[1].stages[0].humidity_band"
  std::string what;   // expected, found, what to do
};

// "cellar.toml, line 12: parts[1].stages[0].humidity_band: ..."; `name` stands for the file.
std::string ToText(const PlanFault& fault, std::string_view name);

struct PlanReading {
  std::optional<Plan> plan;  // set only if there is no fault
  std::vector<PlanFault> faults;
};

// Reads the TOML text of a plan and finds all its faults in one go. `name` stands for the file in messages. Never
// throws on bad text.
PlanReading ReadPlan(std::string_view text, std::string_view name);

// The text that reads as the plan again, in the documented format.
std::string WritePlan(const Plan& plan);

// What a plan that was not read from a text contradicts itself in; the lines are 0. Empty: the plan is sound.
std::vector<PlanFault> CheckPlan(const Plan& plan);

// The plans that come with the program, in the order in which they are offered. Lives as long as the program.
const std::vector<Plan>& PlanLibrary();
// One of them, to hand to a wheel; null if no plan has the id.
std::shared_ptr<const Plan> PlanFromLibrary(std::string_view id);
// The file that a keeper sees, exports and edits: a plan of the library keeps the comments of its own text.
std::string TextOf(const Plan& plan);

}  // namespace rindwatch::rules
