#include "daemon/replay/report_json.hpp"

#include <boost/json.hpp>

namespace rindwatch {

namespace json = boost::json;
using rules::ToMillis;

namespace {

json::array Instants(const std::vector<rules::Instant>& all) {
  json::array array;
  for (const rules::Instant at : all) array.push_back(ToMillis(at));
  return array;
}

json::object RungJson(const Rung& rung) {
  json::object object{{"id", rung.id},
                      {"kind", ToText(rung.kind)},
                      {"severity", ToText(rung.severity)},
                      {"cave", rung.cave},
                      {"since", ToMillis(rung.since)},
                      {"raised", ToMillis(rung.raised)},
                      {"told", Instants(rung.told)},
                      {"extreme", rung.extreme},
                      {"dose", rung.dose}};
  if (rung.probe) object["probe"] = *rung.probe;
  if (rung.over) object["over"] = ToMillis(*rung.over);
  if (!rung.called.empty()) object["what"] = rung.called;
  return object;
}

json::object SideJson(const std::vector<Rung>& alarms, rules::Instant from, rules::Instant to) {
  json::array array;
  for (const Rung& rung : alarms) array.push_back(RungJson(rung));
  return {{"tally", TallyJson(TallyOf(alarms))},
          {"rates", RatesJson(RatesOf(alarms, from, to))},
          {"alarms", std::move(array)}};
}

std::string ShareOfReal(const Words& words, const ReplayReport& report) {
  if (report.real == 0) return "";
  const auto count = static_cast<std::size_t>(report.real);
  if (report.real_found == report.real) return " " + words.Count("replay.real all", count);
  if (report.real_found == 0) return " " + words.Count("replay.real none", count);
  return " " + words.Say("replay.real some",
                         {{"found", std::to_string(report.real_found)}, {"real", std::to_string(report.real)}});
}

}  // namespace

json::object TallyJson(const Tally& tally) {
  json::object called;
  for (const auto& [what, count] : tally.called) called[what] = count;
  return {{"rang", tally.rang}, {"watch", tally.watch},   {"hint", tally.hint},
          {"real", tally.real}, {"unsaid", tally.unsaid}, {"called", std::move(called)}};
}

json::object RatesJson(const rules::AlarmRates& rates) {
  return {{"told", rates.told},
          {"per_ten_minutes", rates.per_ten_minutes},
          {"per_day", rates.per_day},
          {"most_in_ten_minutes", rates.most_in_ten_minutes},
          {"flooded_periods_percent", rates.flooded_periods},
          {"floods", rates.floods},
          {"flooded_time_percent", rates.flooded_time},
          {"chattering", rates.chattering},
          {"fleeting", rates.fleeting},
          {"stale", rates.stale},
          {"stale_most", rates.stale_most},
          {"low_percent", rates.low},
          {"medium_percent", rates.medium},
          {"high_percent", rates.high}};
}

json::object ReportJson(const ReplayReport& report, bool changed) {
  json::object object{{"from", ToMillis(report.from)},
                      {"to", ToMillis(report.to)},
                      {"worked_out_from", ToMillis(report.worked_out_from)},
                      {"readings", report.readings},
                      {"changed", changed},
                      {"now", SideJson(report.now, report.from, report.to)},
                      {"then", SideJson(report.then, report.from, report.to)},
                      {"real", report.real},
                      {"real_found", report.real_found}};
  if (changed) return object;
  object["identical"] = report.differences.empty();
  json::array differences;
  for (const std::string& line : report.differences) differences.push_back(json::string(line));
  object["differences"] = std::move(differences);
  return object;
}

std::string TallySentence(const Words& words, const Tally& tally) {
  if (tally.rang == 0) return words.Say("replay.rang none");
  std::string parts;
  const auto add = [&](int count, const std::string& what) {
    if (count == 0) return;
    if (!parts.empty()) parts += ", ";
    parts += std::to_string(count) + " " + what;
  };
  add(tally.real, words.Say("replay.real"));
  for (const auto& [what, count] : tally.called)
    add(count, words.Has("what." + what) ? words.Say("what." + what) : what);
  add(tally.unsaid, words.Say("replay.unsaid"));
  return words.Count("replay.rang", static_cast<std::size_t>(tally.rang), {{"parts", parts}});
}

std::string ReplaySentence(const Words& words, const ReplayReport& report) {
  const Tally now = TallyOf(report.now), then = TallyOf(report.then);
  return words.Count("replay.would", static_cast<std::size_t>(now.rang), {{"then", std::to_string(then.rang)}}) +
         ShareOfReal(words, report);
}

}  // namespace rindwatch
