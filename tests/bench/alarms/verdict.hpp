// A course judged by the engine: what rang and when, against what the wheels' cores really did.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "tests/bench/alarms/course.hpp"

namespace rindwatch::bench {

// "Leaves its band": a core above this, the limit that is typed in for the cave.
inline constexpr double kLimit = 14;
inline constexpr double kColdLimit = 10;

struct Ring {
  int at = 0;  // minute
  rules::Decision decision;
};

// A forecast that was made, and what came.
struct Outcome {
  int at = 0;
  double soonest = 0;            // minutes
  std::optional<double> latest;  // none: perhaps never
  std::optional<double> came;    // minutes; none: it never did
};

struct Verdict {
  Trouble trouble;
  int seed = 0;
  std::optional<int> begins;
  std::vector<Ring> rings;  // raised and made worse
  std::vector<Outcome> outcomes;
  std::optional<int> leaves[Minute::kWheels];  // the minute at which a core leaves, after it went wrong
  double wrong_by = 0;                         // root mean square error of the 250 g wheel's estimate, K
};

struct Replayed {
  Verdict verdict;
  std::size_t readings = 0;
  double seconds = 0;
};
// `both`: the second probe of the fridge is heard too. `own`: limits and delays other than those of the program.
Replayed Judge(const Course& course, bool both, const rules::OwnSettings& own);

// The first ring of one of these kinds with at least this severity, at or after a minute.
std::optional<int> FirstRing(const Verdict& verdict, std::vector<rules::AlarmKind> kinds, rules::Severity severity,
                             int from);

}  // namespace rindwatch::bench
