// Which topics belong to which probe, and what in a message is which channel. Plain values.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "rules/reading.hpp"

namespace rindwatch::sensors {

// How a payload is read.
enum class Format : std::uint8_t {
  kPlain,  // the payload is one value: 12.5
  kJson,   // the payload is a JSON text; channels are named by pointers into it (RFC 6901)
};

// In what the probe counts.
enum class Unit : std::uint8_t {
  kCelsius,
  kFahrenheit,
  kKelvin,
  kPercent,
  kFraction,     // 0 to 1 for 0 to 100 %
  kOpenIsOne,    // 1, true, "open", "on" mean an open door
  kShutIsOne,    // 1, true, "on" mean a shut door; the words "open" and "shut" keep their meaning
  kWaterIsOne,   // 1, true, "wet", "on" mean that there is water
  kWaterIsZero,  // 1, true, "on" mean that there is none; the words "wet" and "dry" keep their meaning
  kWatt,
  kPpm,
  kGram,
  kKilogram,
};

// "celsius", "fahrenheit", "kelvin", "percent", "fraction", "open is 1", "shut is 1", "water is 1", "water is 0",
// "watt", "ppm", "gram", "kilogram"
std::string_view ToText(Unit unit);
std::optional<Unit> UnitFromText(std::string_view text);
// "plain", "json"
std::string_view ToText(Format format);
std::optional<Format> FormatFromText(std::string_view text);
// "temperature", "humidity", "wheel temperature", "door", "plant power", "carbon dioxide", "ammonia", "battery",
// "weight", "humidifier water", "drain water"
std::string_view NameOf(rules::ChannelKind kind);
// The units that a kind can be sent in; the first is the usual one.
std::vector<Unit> UnitsOf(rules::ChannelKind kind);

struct RouteChannel {
  rules::ChannelId channel = 0;
  rules::ChannelKind kind = rules::ChannelKind::kTemperature;
  std::string
      pointer;  // RFC 6901, such as "/temperature"; empty in a plain route and for a JSON text that is the value
  Unit unit = Unit::kCelsius;
  bool operator==(const RouteChannel&) const = default;
};

struct Route {
  std::string filter;  // MQTT topic filter, such as "cellar/box2/#"
  std::int64_t probe = 0;
  Format format = Format::kPlain;
  std::vector<RouteChannel> channels;       // a plain route has exactly one
  std::optional<std::string> time_pointer;  // where a JSON text holds the instant of measuring
  bool operator==(const Route&) const = default;
};

// What is wrong with a route, one sentence each for the keeper; empty if it is sound.
std::vector<std::string> RouteFaults(const Route& route);

// The routes in force, found by topic. Immutable once built, so any thread may ask. Takes sound routes; a route with
// a fault matches nothing.
class RouteTable {
 public:
  RouteTable() = default;
  explicit RouteTable(std::vector<Route> routes);

  // The routes that read messages on `topic`; several may share a message. Pointers live as long as the table.
  std::vector<const Route*> For(std::string_view topic) const;
  // The filters of all routes, each once, as the keeper wrote them.
  std::vector<std::string> Filters() const;

 private:
  std::vector<Route> routes_;
  std::unordered_map<std::string, std::vector<std::size_t>> by_topic_;  // routes without wildcards
  std::vector<std::size_t> wild_;
};

}  // namespace rindwatch::sensors
