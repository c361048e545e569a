#include <fmt/format.h>

#include <cmath>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "sensors/number.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::size_t kMostValues = 40;

std::string Lower(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

// What a name in a message or a topic most often means; only a proposal, the keeper says.
std::string Guess(std::string_view name, double value) {
  const std::string word = Lower(name);
  const auto has = [&word](std::string_view part) { return word.find(part) != std::string::npos; };
  if (has("batt")) return "battery";
  if (has("hum") || word == "rh" || word == "h") return "humidity";
  if (has("temp") || word == "t") return "temperature";
  if (has("time") || word == "ts" || word == "at" || value > 1e9) return "time";
  if (has("weight") || has("gram")) return "weight";
  return {};
}

std::string_view LastPart(std::string_view topic) { return topic.substr(topic.rfind('/') + 1); }

// A key inside a pointer (RFC 6901, section 3: ~ and / are written ~0 and ~1).
std::string Escaped(std::string_view key) {
  std::string text;
  for (const char c : key) text += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
  return text;
}

void AddValue(json::array& values, std::string pointer, std::string_view name, double value) {
  if (!std::isfinite(value) || values.size() >= kMostValues) return;
  json::object object{{"pointer", std::move(pointer)}, {"value", value}};
  if (const std::string guess = Guess(name, value); !guess.empty()) object["guess"] = guess;
  values.push_back(std::move(object));
}

void Walk(const json::value& value, const std::string& pointer, std::string_view name, json::array& values) {
  if (value.is_number()) AddValue(values, pointer, name, value.to_number<double>());
  if (value.is_string()) {
    const auto read = sensors::ReadNumber(value.as_string());
    if (const auto* number = std::get_if<double>(&read)) AddValue(values, pointer, name, *number);
  }
  if (const json::object* object = value.if_object()) {
    for (const auto& [key, member] : *object) Walk(member, pointer + "/" + Escaped(key), key, values);
  }
  if (const json::array* array = value.if_array()) {
    for (std::size_t n = 0; n < array->size(); ++n) Walk((*array)[n], fmt::format("{}/{}", pointer, n), name, values);
  }
}

json::array ValuesIn(const Arrival& arrival) {
  json::array values;
  const auto read = sensors::ReadNumber(arrival.sample);
  if (const auto* number = std::get_if<double>(&read)) {
    AddValue(values, "", LastPart(arrival.topic), *number);
    return values;
  }
  boost::system::error_code error;
  const json::value value = json::parse(arrival.sample, error);
  if (!error) Walk(value, "", LastPart(arrival.topic), values);
  return values;
}

}  // namespace

json::object ArrivingJson(const ApiContext& context) {
  json::array topics;
  if (context.broker) {
    for (const Arrival& arrival : context.broker->Arriving().List()) {
      json::object object{{"topic", arrival.topic},
                          {"sample", arrival.sample},
                          {"at", ToMillis(arrival.at)},
                          {"count", arrival.count},
                          {"values", ValuesIn(arrival)}};
      for (const ProbeRow* probe : context.book().Probes()) {
        if (!sensors::Matches(probe->route.filter, arrival.topic)) continue;
        json::object routed{{"probe", probe->name}};
        const auto cave = context.book().HangsIn(*probe);
        if (const CaveRow* row = cave ? context.book().Cave(*cave) : nullptr) routed["cave_name"] = row->name;
        object["routed"] = std::move(routed);
      }
      topics.push_back(std::move(object));
    }
  }
  return {{"head", HeadJson(context)},
          {"connected", context.broker != nullptr && context.broker->IsConnected()},
          {"broker", fmt::format("{}:{}", context.config.broker_host, context.config.broker_port)},
          {"topics", std::move(topics)}};
}

}  // namespace rindwatch
