#include "daemon/replay/report_json.hpp"
#include "rules/alarms/version.hpp"

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

json::object SideJson(const std::vector<Rung>& alarms, const rules::AlarmRates& rates) {
  json::array array;
  for (const Rung& rung : alarms) array.push_back(RungJson(rung));
  return {{"tally", TallyJson(TallyOf(alarms))}, {"rates", RatesJson(rates)}, {"alarms", std::move(array)}};
}

json::array Texts(const std::vector<std::string>& all) {
  json::array array;
  for (const std::string& text : all) array.push_back(json::string(text));
  return array;
}

// The version that replays, and the spans that others decided.
json::object RulesJson(const std::vector<RulesSpan>& others) {
  json::array array;
  for (const RulesSpan& span : others) {
    json::object object{{"from", ToMillis(span.from)}, {"until", ToMillis(span.until)}};
    if (span.version) object["version"] = *span.version;
    array.push_back(std::move(object));
  }
  return {{"version", rules::kRulesVersion}, {"others", std::move(array)}};
}

json::object RetoldJson(const Retold& retold) { return {{"rang", retold.rang}, {"still", retold.still}}; }

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
          {"busy_hours_percent", rates.busy_hours},
          {"floods", rates.floods},
          {"flooded_time_percent", rates.flooded_time},
          {"chattering", rates.chattering},
          {"fleeting", rates.fleeting},
          {"stale", rates.stale},
          {"stale_most", rates.stale_most},
          {"ten_most_frequent_percent", rates.ten_most_frequent},
          {"low_percent", rates.low},
          {"medium_percent", rates.medium},
          {"high_percent", rates.high}};
}

json::object ComparedJson(const Compared& compared) {
  json::object called;
  for (const auto& [what, retold] : compared.called) called[what] = RetoldJson(retold);
  return {{"real", RetoldJson(compared.real)},
          {"called", std::move(called)},
          {"unsaid", RetoldJson(compared.unsaid)},
          {"fresh", compared.fresh}};
}

json::object ReportJson(const ReplayReport& report, bool changed) {
  json::object object{{"from", ToMillis(report.from)},
                      {"to", ToMillis(report.to)},
                      {"worked_out_from", ToMillis(report.worked_out_from)},
                      {"readings", report.readings},
                      {"changed", changed},
                      {"rules", RulesJson(report.other_rules)},
                      {"now", SideJson(report.now, report.rates_now)},
                      {"then", SideJson(report.then, report.rates_then)},
                      {"compared", ComparedJson(report.compared)}};
  if (changed) return object;
  object["identical"] = report.differences.empty();
  object["differences"] = Texts(report.differences);
  object["differences_by_other_rules"] = Texts(report.by_other_rules);
  return object;
}

}  // namespace rindwatch
