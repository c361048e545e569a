// The rules again over what was kept, with the limits in force or with others. Reads beside a running daemon and writes
// nothing. Takes seconds for a year of readings: never in the loop's thread (`ReplayRunner` does it in its own).
#pragma once

#include <atomic>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "daemon/replay/compared.hpp"
#include "daemon/replay/versions.hpp"
#include "rules/care/history.hpp"

namespace rindwatch {

// What is tried in place of what was in force.
struct OtherLimits {
  std::optional<rules::CaveId> cave;                         // none: every cave
  std::optional<rules::Figure> temperature, humidity;        // none: as it was
  rules::OwnSettings settings;                               // win over the cave's own of then, each by itself
  std::vector<rules::AlarmKind> off;                         // not judged, besides those that were not
  std::vector<rules::AlarmKind> judged{};                    // judged again
  bool wheels_temperature = false, wheels_humidity = false;  // the wheels' own bands again, whatever was typed
  std::optional<bool> ready_cheese{};

  // False: all is as it was.
  bool Tries() const {
    const bool bands = temperature || humidity || wheels_temperature || wheels_humidity;
    return bands || !settings.empty() || !off.empty() || !judged.empty() || ready_cheese;
  }
};

struct ReplayCall {
  rules::Instant from, to;            // alarms raised in [from, to) are told
  std::optional<rules::CaveId> cave;  // none: all
  std::vector<OtherLimits> other;     // empty: as it was
  // From the first reading on, however long ago; else from as far back as anything is learned before the span, and, as
  // it was, before what stands in it was raised.
  bool whole = false;
};

struct ReplayReport {
  rules::Instant from, to;
  rules::Instant worked_out_from;  // the engine was stepped through everything since
  std::vector<Rung> then;          // by the journal
  std::vector<Rung> now;           // by the replay; `called` is that of the alarm that it stands for
  Compared compared;
  // Of all that stood in the span, also of what was raised before it.
  rules::AlarmRates rates_then, rates_now;
  // Lines that only one of journal and replay has, or that say something else; empty and nothing tried: identical.
  std::vector<std::string> differences;
  // Spans of it that were decided by other versions of the rules than the one that replays, and those of the
  // differences that may come of that: told in such a span, or of an alarm that was raised in one.
  std::vector<RulesSpan> other_rules;
  std::vector<std::string> by_other_rules;
  // The others of them.
  std::vector<std::string> BareDifferences() const;
  std::size_t readings = 0;  // of the span
};

// `database` is the file's path, `home` the zone and hour of the configuration. Throws StoreError, and ReplayStopped
// once `stop` is set.
struct ReplayStopped : std::runtime_error {
  using std::runtime_error::runtime_error;
};
ReplayReport Replay(const std::string& database, const rules::DayTurn& home, const ReplayCall& call,
                    const std::atomic<bool>& stop);

}  // namespace rindwatch
