// Alarms as they rang, by the journal or by a replay, and what they come to in the keeper's words: "rang 3 times: 2
// real, 1 door".
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/alarms/rates.hpp"

namespace rindwatch {

struct Rung {
  std::string id;
  rules::AlarmKind kind{};
  rules::Why why{};
  rules::Severity severity{};  // the loudest that it was told as
  rules::CaveId cave = 0;
  std::optional<rules::ProbeId> probe;
  rules::Instant since, raised;
  std::optional<rules::Instant> over;
  double extreme = 0, dose = 0;
  bool never_left = false;           // told before the air had reached the edge of its band
  bool folded = false;               // another one tells of the same event
  std::vector<rules::Instant> told;  // raised, and each time that it got worse
  std::string called;                // what it was, as the keeper said; empty: not said

  // It sounded: act or above, and for an event that no other one tells. A watch is told silently, a hint stands in the
  // book.
  bool Rang() const { return severity >= rules::Severity::kAct && !folded; }
};

// As it stands, told of nothing yet.
Rung RungOf(const rules::Alarm& alarm);

// The plant, the power, a probe's own alarm, a door that stood open, gas: what the keeper called it was indeed so.
bool IsReal(rules::AlarmKind kind, const std::string& called);

struct Tally {
  int rang = 0;   // act or above
  int watch = 0;  // told without a sound
  int hint = 0;
  int real = 0;                         // of those that rang
  std::map<std::string, int> called{};  // of those that rang and were not real, by the keeper's word: "door"
  int unsaid = 0;                       // of those that rang: the keeper has not said what it was
};
Tally TallyOf(const std::vector<Rung>& alarms);
rules::AlarmRates RatesOf(const std::vector<Rung>& alarms, rules::Instant from, rules::Instant to);

// Gathers decisions into alarms, in the order raised.
class RungList {
 public:
  void Take(const rules::Decision& decision);
  // Those that were raised in [from, to) over `cave` (none: all).
  std::vector<Rung> Raised(rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave) const;
  // Those that stood at any time in it.
  std::vector<Rung> Standing(rules::Instant from, rules::Instant to, std::optional<rules::CaveId> cave) const;
  const Rung* Find(const std::string& id) const;

 private:
  std::vector<Rung> alarms_;
  std::map<std::string, std::size_t> by_id_;
};

}  // namespace rindwatch
