#include "daemon/api/limits_json.hpp"

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::array RowsJson(const CaveWatching& watching) {
  const rules::Settings usual, own = rules::SettingsWith(watching.own);
  json::array rows;
  for (const rules::SettingRow& row : rules::SettingRows()) {
    rows.push_back({{"id", row.id},
                    {"unit", row.unit},
                    {"value", own.*row.field},
                    {"usual", usual.*row.field},
                    {"least", row.least},
                    {"most", row.most},
                    {"source", row.source}});
  }
  return rows;
}

json::object BandsJson(const std::optional<rules::Figure>& temperature, const std::optional<rules::Figure>& humidity) {
  json::object bands;
  SetSpan(bands, "temperature", temperature);
  SetSpan(bands, "humidity", humidity);
  return bands;
}

}  // namespace

json::object LimitsPageJson(const ApiContext& context, const CaveRow& cave) {
  const CaveLimits& typed = cave.limits_now;
  const CaveWatching& watching = cave.watching_now;
  const rules::CaveView view = context.watch.View(cave.id);
  json::array out;
  for (const rules::AlarmKind kind : watching.out_of_service) out.push_back(json::string(rules::ToText(kind)));
  return {{"head", HeadJson(context)},
          {"cave", {{"id", cave.id}, {"name", cave.name}, {"kind", ToText(cave.kind)}}},
          {"band", BandsJson(view.temperature.band, view.humidity.band)},
          {"typed", BandsJson(typed.temperature, typed.humidity)},
          {"ready_cheese", watching.ready_cheese},
          {"rows", RowsJson(watching)},
          {"out_of_service", std::move(out)}};
}

}  // namespace rindwatch
