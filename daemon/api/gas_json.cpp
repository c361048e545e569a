#include "daemon/api/gas_json.hpp"

#include <algorithm>
#include <string>

#include "daemon/api/gas.hpp"
#include "daemon/api/gas_grade.hpp"
#include "daemon/api/json.hpp"
#include "rules/alarms/channels.hpp"

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
  for (const ProbeRow* probe : watch.TheBook().Probes()) {
    if (watch.TheBook().HangsIn(*probe) != cave.id || watch.TheBook().OutOfService(*probe)) continue;
    for (const ProbeChannel& channel : probe->channels) {
      if (!rules::IsGas(channel.kind)) continue;
      const bool co2 = channel.kind == rules::ChannelKind::kCarbonDioxide;
      const GasLimits of_gas = GasLimitsOf(channel.kind, limits);
      json::object gas{{"kind", co2 ? "carbon dioxide" : "ammonia"}, {"watch", of_gas.watch}, {"act", of_gas.act}};
      SetNumber(gas, "urgent", of_gas.urgent);
      const auto said = rules::LastSaid(watch.Engine(), channel.id, watch.Now());
      gas["speaks"] = said && said->speaks;
      const bool known = said && said->speaks;
      gas["grade"] = !known ? std::string_view("unknown") : GradeWord(of_gas.Of(said->value));
      if (known && BarsEntry(of_gas.Of(said->value))) gas["bars"] = true;
      if (said) gas["latest"] = said->value;
      if (said) gas["latest_at"] = ToMillis(said->measured_at);
      array.push_back(std::move(gas));
    }
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
