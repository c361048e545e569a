#include "sensors/route.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "sensors/topic_filter.hpp"

namespace rindwatch::sensors {
namespace {

using rules::ChannelKind;

constexpr std::array kUnits = {
    std::pair{Unit::kCelsius, std::string_view("celsius")},
    std::pair{Unit::kFahrenheit, std::string_view("fahrenheit")},
    std::pair{Unit::kKelvin, std::string_view("kelvin")},
    std::pair{Unit::kPercent, std::string_view("percent")},
    std::pair{Unit::kFraction, std::string_view("fraction")},
    std::pair{Unit::kOpenIsOne, std::string_view("open is 1")},
    std::pair{Unit::kShutIsOne, std::string_view("shut is 1")},
    std::pair{Unit::kWaterIsOne, std::string_view("water is 1")},
    std::pair{Unit::kWaterIsZero, std::string_view("water is 0")},
    std::pair{Unit::kWatt, std::string_view("watt")},
    std::pair{Unit::kPpm, std::string_view("ppm")},
    std::pair{Unit::kGram, std::string_view("gram")},
    std::pair{Unit::kKilogram, std::string_view("kilogram")},
};
constexpr std::array kFormats = {
    std::pair{Format::kPlain, std::string_view("plain")},
    std::pair{Format::kJson, std::string_view("json")},
};

template <typename Table, typename Value>
std::string_view TextIn(const Table& table, Value value) {
  for (const auto& [one, text] : table) {
    if (one == value) return text;
  }
  return "unknown";
}

template <typename Value, typename Table>
std::optional<Value> ValueIn(const Table& table, std::string_view text) {
  for (const auto& [value, name] : table) {
    if (name == text) return value;
  }
  return std::nullopt;
}

// RFC 6901, section 3: empty, or begins with "/", and after "~" stands "0" or "1".
bool IsPointer(std::string_view text) {
  if (!text.empty() && text.front() != '/') return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '~' && (i + 1 == text.size() || (text[i + 1] != '0' && text[i + 1] != '1'))) return false;
  }
  return true;
}

std::string PointerFault(std::string_view what, std::string_view pointer) {
  return "The pointer \"" + std::string(pointer) + "\" of " + std::string(what) +
         " is none: it begins with a slash, and a ~ is written ~0, a slash within a name ~1, as in "
         "/indoor/temperature.";
}

void AddChannelFaults(const Route& route, const RouteChannel& channel, std::vector<std::string>& faults) {
  const auto name = std::string(NameOf(channel.kind));
  const auto units = UnitsOf(channel.kind);
  if (units.empty()) {
    faults.push_back("A channel of the kind " + std::to_string(static_cast<int>(channel.kind)) +
                     " is unknown; choose one such as temperature or humidity.");
    return;
  }
  if (std::find(units.begin(), units.end(), channel.unit) == units.end()) {
    faults.push_back("The " + name + " cannot be counted in \"" + std::string(ToText(channel.unit)) + "\"; choose " +
                     std::string(ToText(units.front())) + ".");
  }
  if (route.format == Format::kPlain && !channel.pointer.empty()) {
    faults.push_back("The " + name + " has the pointer \"" + channel.pointer +
                     "\", but the payload is one plain number; choose JSON or take the pointer away.");
  }
  if (route.format == Format::kJson && !IsPointer(channel.pointer)) {
    faults.push_back(PointerFault("the " + name, channel.pointer));
  }
}

void AddTimeFaults(const Route& route, std::vector<std::string>& faults) {
  if (!route.time_pointer) return;
  if (route.format == Format::kPlain) {
    faults.emplace_back("A plain number carries no time; choose JSON or take the pointer to the time away.");
  } else if (!IsPointer(*route.time_pointer)) {
    faults.push_back(PointerFault("the time", *route.time_pointer));
  }
}

bool HasDoubles(const Route& route) {
  std::set<rules::ChannelId> seen;
  return std::any_of(route.channels.begin(), route.channels.end(),
                     [&](const RouteChannel& c) { return !seen.insert(c.channel).second; });
}

}  // namespace

std::string_view ToText(Unit unit) { return TextIn(kUnits, unit); }
std::optional<Unit> UnitFromText(std::string_view text) { return ValueIn<Unit>(kUnits, text); }
std::string_view ToText(Format format) { return TextIn(kFormats, format); }
std::optional<Format> FormatFromText(std::string_view text) { return ValueIn<Format>(kFormats, text); }

std::string_view NameOf(ChannelKind kind) {
  switch (kind) {
    case ChannelKind::kTemperature:
      return "temperature";
    case ChannelKind::kHumidity:
      return "humidity";
    case ChannelKind::kWheelTemperature:
      return "wheel temperature";
    case ChannelKind::kDoor:
      return "door";
    case ChannelKind::kPlantPower:
      return "plant power";
    case ChannelKind::kCarbonDioxide:
      return "carbon dioxide";
    case ChannelKind::kAmmonia:
      return "ammonia";
    case ChannelKind::kBattery:
      return "battery";
    case ChannelKind::kWeight:
      return "weight";
    case ChannelKind::kHumidifierWater:
      return "humidifier water";
    case ChannelKind::kDrainWater:
      return "drain water";
  }
  return "unknown";
}

std::vector<Unit> UnitsOf(ChannelKind kind) {
  switch (kind) {
    case ChannelKind::kTemperature:
    case ChannelKind::kWheelTemperature:
      return {Unit::kCelsius, Unit::kFahrenheit, Unit::kKelvin};
    case ChannelKind::kHumidity:
    case ChannelKind::kBattery:
      return {Unit::kPercent, Unit::kFraction};
    case ChannelKind::kDoor:
      return {Unit::kOpenIsOne, Unit::kShutIsOne};
    case ChannelKind::kHumidifierWater:
    case ChannelKind::kDrainWater:
      return {Unit::kWaterIsOne, Unit::kWaterIsZero};
    case ChannelKind::kPlantPower:
      return {Unit::kWatt};
    case ChannelKind::kCarbonDioxide:
    case ChannelKind::kAmmonia:
      return {Unit::kPpm};
    case ChannelKind::kWeight:
      return {Unit::kGram, Unit::kKilogram};
  }
  return {};
}

std::vector<std::string> RouteFaults(const Route& route) {
  std::vector<std::string> faults;
  if (auto fault = FilterFault(route.filter)) faults.push_back(std::move(*fault));
  if (route.channels.empty()) {
    faults.emplace_back("The route names no channel; say what the probe measures, such as temperature.");
  }
  if (route.format == Format::kPlain && route.channels.size() > 1) {
    faults.emplace_back("A plain number is one channel and the route names " + std::to_string(route.channels.size()) +
                        "; choose JSON or keep one.");
  }
  if (HasDoubles(route)) faults.emplace_back("The route names a channel twice; one place in the message is its value.");
  for (const auto& channel : route.channels) AddChannelFaults(route, channel, faults);
  AddTimeFaults(route, faults);
  return faults;
}

RouteTable::RouteTable(std::vector<Route> routes) : routes_(std::move(routes)) {
  std::erase_if(routes_, [](const Route& route) { return !RouteFaults(route).empty(); });
  for (std::size_t i = 0; i < routes_.size(); ++i) {
    const bool wild = routes_[i].filter.find_first_of("+#") != std::string::npos;
    if (wild) {
      wild_.push_back(i);
    } else {
      by_topic_[routes_[i].filter].push_back(i);
    }
  }
}

std::vector<const Route*> RouteTable::For(std::string_view topic) const {
  std::vector<const Route*> found;
  if (const auto exact = by_topic_.find(std::string(topic)); exact != by_topic_.end()) {
    for (const std::size_t i : exact->second) found.push_back(&routes_[i]);
  }
  for (const std::size_t i : wild_) {
    if (Matches(routes_[i].filter, topic)) found.push_back(&routes_[i]);
  }
  return found;
}

std::vector<std::string> RouteTable::Filters() const {
  std::set<std::string> filters;
  for (const auto& route : routes_) filters.insert(route.filter);
  return {filters.begin(), filters.end()};
}

}  // namespace rindwatch::sensors
