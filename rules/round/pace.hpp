// How long a care takes. First from the trade's usual figures, then from the keeper's own ticks.
#pragma once

#include <chrono>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "rules/faults/fault_kind.hpp"
#include "rules/plans/plan.hpp"
#include "rules/time.hpp"
#include "rules/units.hpp"

namespace rindwatch::rules {

// Of a wheel as heavy as that, by one person. Sources at the table.
double UsualSeconds(CareKind kind, Grams weight);
double UsualSeconds(const std::vector<CareKind>& kinds, Grams weight);

// One signature of a round, by its tap.
struct Tick {
  Instant at;
  std::string keeper;  // empty where one keeps alone
  Date day;            // the keeper's day
  RindClass rind = RindClass::kNaturalAndPressed;
  std::vector<CareKind> kinds;
  Grams weight;  // of one wheel
  int count = 0;
};

// Five classes, at the weights for which there are figures.
int WeightClassOf(Grams weight);

// What a change of gloves takes, with cloth and wash.
inline constexpr std::chrono::seconds kChangeTime{60};

// What takes any time at all takes a minute.
int InWholeMinutes(double seconds);

// Beside one line of a list: under half a minute none is shown.
int ShownMinutes(double seconds);

// How the minutes of a round or a day are summed, wherever they stand: each line as it is shown, in whole minutes; the
// lines under half a minute and the changes, whose time is not shown line by line, together and in whole minutes too.
// So the sum is never less than what is shown and the changes. A value. The page sums up what it shows in the same way.
class MinuteSum {
 public:
  void AddLine(double seconds);
  void AddChange(std::chrono::seconds change) { not_shown_ += static_cast<double>(change.count()); }
  int Minutes() const;  // what takes any time at all takes a minute

 private:
  int shown_ = 0;
  double not_shown_ = 0;  // seconds
};

// Seconds a wheel. A value; one for the whole house.
class Pace {
 public:
  // The trade's usual figures.
  Pace() = default;
  // From ticks in any order, late entries left out by the caller. What lies between one tick and the next of the same
  // keeper and day is the time of the later one. Pauses and lines signed in one go are left out; the median of the
  // newest forty counts once there are five of the same kinds and weight class.
  static Pace From(std::vector<Tick> ticks);

  double SecondsOf(const std::vector<CareKind>& kinds, Grams weight) const;
  bool Learned(const std::vector<CareKind>& kinds, Grams weight) const;
  bool operator==(const Pace&) const = default;

 private:
  std::map<std::pair<std::vector<CareKind>, int>, double> learned_;  // seconds a wheel
};

}  // namespace rindwatch::rules
