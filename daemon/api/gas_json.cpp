#include "daemon/api/gas_json.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "daemon/api/gas.hpp"
#include "daemon/api/gas_grade.hpp"
#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

bool IsAnyUnknown(const json::array& gas) {
  return std::ranges::any_of(gas, [](const json::value& one) { return !one.at("speaks").as_bool(); });
}

}  // namespace

json::array GasJson(const Watch& watch, const CaveRow& cave) {
  const rules::Settings limits = rules::SettingsWith(cave.watching_now.own);
  json::array array;
  for (const auto& [kind, name] : {std::pair{rules::ChannelKind::kCarbonDioxide, "carbon dioxide"},
                                   std::pair{rules::ChannelKind::kAmmonia, "ammonia"}}) {
    if (!MeasuresGas(watch.TheBook(), cave.id, kind)) continue;
    const rules::GasLimits of_gas = rules::GasLimitsOf(kind, limits);
    json::object gas{{"kind", name}, {"watch", of_gas.watch}, {"act", of_gas.act}};
    SetNumber(gas, "urgent", of_gas.urgent);
    const auto said = SaidOfGas(watch, cave.id, kind);
    const bool known = said && said->speaks;
    gas["speaks"] = known;
    gas["grade"] = !known ? std::string_view("unknown") : GradeWord(of_gas.Of(said->value));
    if (known && BarsEntry(of_gas.Of(said->value))) gas["bars"] = true;
    if (said) gas["latest"] = said->value;
    if (said) gas["latest_at"] = ToMillis(said->measured_at);
    array.push_back(std::move(gas));
  }
  return array;
}

void PutGasFirst(json::object& state, const Watch& watch, const CaveRow& cave) {
  json::array gas = GasJson(watch, cave);
  const bool barred = IsBarredByGas(watch, cave.id);
  const std::string air(state.at("state").as_string());
  const bool is_well =
      air == rules::ToText(rules::CaveState::kInBand) || air == rules::ToText(rules::CaveState::kNotWatched);
  if (RingsOfGas(watch, cave.id)) {
    state["state"] = "gas";
  } else if ((barred || IsAnyUnknown(gas)) && is_well) {
    state["state"] = rules::ToText(rules::CaveState::kUnknown);
  }
  if (barred) state["barred"] = true;
  if (!gas.empty()) state["gas"] = std::move(gas);
}

}  // namespace rindwatch
