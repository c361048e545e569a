// A replay as JSON, for `--json` and the page alike, and as the keeper's sentence.
#pragma once

#include <boost/json/object.hpp>
#include <string>

#include "daemon/replay/replay.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch {

// {from, to, worked_out_from, readings, changed, now: {tally, rates, alarms}, then: ..., real, real_found, identical?}
boost::json::object ReportJson(const ReplayReport& report, bool changed);
boost::json::object TallyJson(const Tally& tally);
boost::json::object RatesJson(const rules::AlarmRates& rates);
// "It rang 3 times: 2 real, 1 door."
std::string TallySentence(const Words& words, const Tally& tally);
// "With these limits it would have rung 4 times instead of 31, and rung for both that you called real."
std::string ReplaySentence(const Words& words, const ReplayReport& report);

}  // namespace rindwatch
