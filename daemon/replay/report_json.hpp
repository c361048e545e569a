// A replay as JSON, for `--json` and the page alike.
#pragma once

#include <boost/json/object.hpp>
#include <string>

#include "daemon/replay/replay.hpp"

namespace rindwatch {

// {from, to, worked_out_from, readings, changed, rules: {version, others: [{from, until, version?}]}, now: {tally,
// rates, alarms}, then: ..., compared}, and with nothing changed {identical, differences, differences_by_other_rules}.
// Fields are added, never renamed.
boost::json::object ReportJson(const ReplayReport& report, bool changed);
boost::json::object TallyJson(const Tally& tally);
// By what the keeper called it, {rang, still}: how often it rang then, and would have still; fresh: what had not rung.
boost::json::object ComparedJson(const Compared& compared);
boost::json::object RatesJson(const rules::AlarmRates& rates);

}  // namespace rindwatch
