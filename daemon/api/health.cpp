#include "daemon/api/health.hpp"

#include <fmt/format.h>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/version.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

// One family of OpenMetrics text: its type, its help, its samples.
void Family(std::string& text, const char* name, const char* type, const char* help) {
  text += fmt::format("# TYPE rindwatch_{} {}\n# HELP rindwatch_{} {}\n", name, type, name, help);
}
void Sample(std::string& text, std::string_view name, double value, const std::string& labels = "") {
  text += fmt::format("rindwatch_{}{} {}\n", name, labels, value);
}
// A label's value: backslash, quote and line break are escaped.
std::string Label(const std::string& value) {
  std::string text;
  for (const char c : value) text += c == '\\' ? "\\\\" : c == '"' ? "\\\"" : c == '\n' ? "\\n" : std::string(1, c);
  return text;
}

void ChannelSamples(std::string& text, const ApiContext& context, bool air) {
  for (const CaveRow* cave : context.book().Caves()) {
    const rules::CaveView view = context.watch.View(cave->id);
    const rules::ChannelView& channel = air ? view.temperature : view.humidity;
    if (channel.borrowed || channel.silent || !channel.latest) continue;
    Sample(text, air ? "air_temperature_celsius" : "air_humidity_ratio", air ? *channel.latest : *channel.latest / 100,
           fmt::format("{{cave=\"{}\",name=\"{}\"}}", cave->id, Label(cave->name)));
  }
}

}  // namespace

json::object HealthJson(const ApiContext& context) {
  const StoreHealth store = context.store.Health();
  json::object object{{"watching", store.writing},
                      {"now", ToMillis(context.now())},
                      {"version", Version()},
                      {"trial", context.trial},
                      {"store", {{"writing", store.writing}, {"why", store.why}, {"queued", store.queued}}}};
  if (context.broker) {
    object["broker"] = {{"connected", context.broker->IsConnected()}};
    object["clock_known"] = context.broker->IsClockKnown();
  }
  return object;
}

std::string MetricsText(const ApiContext& context, const web::Server::Figures& server) {
  const StoreHealth store = context.store.Health();
  std::string text;
  Family(text, "readings_kept", "counter", "Readings kept since the start.");
  Sample(text, "readings_kept_total", static_cast<double>(store.readings_kept));
  Family(text, "lines_kept", "counter", "Lines of the journal kept since the start.");
  Sample(text, "lines_kept_total", static_cast<double>(store.lines_kept));
  Family(text, "keeps_refused", "counter", "Messages and lines that the store refused since the start.");
  Sample(text, "keeps_refused_total", static_cast<double>(store.refused));
  Family(text, "store_writing", "gauge", "1 while the last write succeeded.");
  Sample(text, "store_writing", store.writing ? 1 : 0);
  Family(text, "store_bytes", "gauge", "Size of the database's files.");
  Sample(text, "store_bytes", static_cast<double>(store.bytes));
  if (context.broker) {
    Family(text, "broker_connected", "gauge", "1 while the broker is there.");
    Sample(text, "broker_connected", context.broker->IsConnected() ? 1 : 0);
    Family(text, "payloads_invalid", "counter", "Messages that could not be read since the start.");
    Sample(text, "payloads_invalid_total", static_cast<double>(context.broker->Invalid().Total()));
  }
  Family(text, "alarms_untaken", "gauge", "Alarms that nobody has taken, by severity.");
  for (const auto severity :
       {rules::Severity::kHint, rules::Severity::kWatch, rules::Severity::kAct, rules::Severity::kUrgent}) {
    double count = 0;
    for (const rules::Alarm& alarm : context.watch.Engine().Alarms()) {
      if (alarm.severity == severity && alarm.Untaken()) ++count;
    }
    Sample(text, "alarms_untaken", count, fmt::format("{{severity=\"{}\"}}", rules::ToText(severity)));
  }
  Family(text, "air_temperature_celsius", "gauge", "The latest reading of each cave that is watched and not silent.");
  ChannelSamples(text, context, true);
  Family(text, "air_humidity_ratio", "gauge", "The latest reading of each cave that is watched and not silent.");
  ChannelSamples(text, context, false);
  Family(text, "http_clients", "gauge", "Connections over the network.");
  Sample(text, "http_clients", static_cast<double>(server.clients));
  Family(text, "http_requests", "counter", "Requests answered since the start.");
  Sample(text, "http_requests_total", static_cast<double>(server.requests));
  return text + "# EOF\n";
}

}  // namespace rindwatch
