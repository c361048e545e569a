#include "daemon/replay/limits_file.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <optional>
#include <sstream>
#include <stdexcept>

namespace rindwatch {

namespace {

// As the page lets them be typed.
struct Bounds {
  double least, most;
  const char *unit, *example;
};
Bounds BoundsOf(SpanKind kind) {
  return kind == SpanKind::kTemperature ? Bounds{-10, 40, "°C", "10-14"} : Bounds{0, 100, "%", "80-92"};
}

bool IsSpan(const std::optional<double>& low, const std::optional<double>& high, const Bounds& bounds) {
  return low && high && *low < *high && *low >= bounds.least && *high <= bounds.most;
}

std::string TextOf(const toml::node& node) {
  std::ostringstream text;
  node.visit([&text](const auto& value) { text << value; });
  return text.str();
}

std::string FigureTextOf(const toml::node& node) {
  if (const auto text = node.value_exact<std::string>()) return *text;
  const auto figure = node.value<double>();
  return figure && !node.is_boolean() ? fmt::format("{:.10g}", *figure) : TextOf(node);
}

// One [[cave]] of the file.
class CaveReader {
 public:
  CaveReader(const toml::table& table, const std::string& file, const CaveNames& caves)
      : table_(table), file_(file), caves_(caves) {}

  OtherLimits Read() const {
    OtherLimits other;
    for (const auto& [key, node] : table_) ReadOne(std::string(key.str()), Place(key.source()), node, other);
    CheckSound(other, Place(table_.source()));
    return other;
  }

 private:
  void ReadOne(const std::string& key, const std::string& place, const toml::node& node, OtherLimits& other) const {
    if (key == "name") {
      other.cave = Cave(place, node);
    } else if (key == "temperature") {
      other.temperature = Span(place, node, SpanKind::kTemperature);
    } else if (key == "humidity") {
      other.humidity = Span(place, node, SpanKind::kHumidity);
    } else if (key == "of_wheels") {
      ReadOfWheels(place, node, other);
    } else if (key == "off") {
      ReadKinds(place, node, other.off);
    } else if (key == "judged") {
      ReadKinds(place, node, other.judged);
    } else if (key == "settings") {
      ReadSettings(place, node, other);
    } else if (key == "ready_cheese") {
      other.ready_cheese = node.value_exact<bool>();
      if (!other.ready_cheese) Refuse(place, "true or false", TextOf(node));
    } else {
      RefuseName(place, "entry of a [[cave]] called", key,
                 {"name", "temperature", "humidity", "of_wheels", "off", "judged", "settings", "ready_cheese"},
                 "Write one of these, or leave it out.");
    }
  }
  rules::CaveId Cave(const std::string& place, const toml::node& node) const {
    if (const auto number = node.value_exact<std::int64_t>()) return CaveNamed(caves_, std::to_string(*number), place);
    const auto name = node.value_exact<std::string>();
    if (!name) Refuse(place, "the name of a cave in quotes", TextOf(node));
    return CaveNamed(caves_, *name, place);
  }
  rules::Figure Span(const std::string& place, const toml::node& node, SpanKind kind) const {
    const toml::table* const span = node.as_table();
    const Bounds bounds = BoundsOf(kind);
    const auto low = span ? (*span)["low"].value<double>() : std::nullopt;
    const auto high = span ? (*span)["high"].value<double>() : std::nullopt;
    if (span) {
      for (const auto& [key, figure] : *span) {
        if (key.str() != "low" && key.str() != "high")
          RefuseName(Place(key.source()), "entry of a span called", std::string(key.str()), {"low", "high"},
                     "Write both of these, and no other.");
      }
    }
    if (IsSpan(low, high, bounds)) return {*low, *high, "tried"};
    Refuse(place,
           fmt::format("{{ low = ..., high = ... }} with low below high, between {:g} and {:g} {}", bounds.least,
                       bounds.most, bounds.unit),
           TextOf(node));
  }
  void ReadOfWheels(const std::string& place, const toml::node& node, OtherLimits& other) const {
    const toml::array* const list = node.as_array();
    if (!list) Refuse(place, "a list such as [\"temperature\", \"humidity\"]", TextOf(node));
    for (const toml::node& item : *list) {
      const auto name = item.value_exact<std::string>();
      if (!name) Refuse(Place(item.source()), "\"temperature\" or \"humidity\" in quotes", TextOf(item));
      PutOfWheels(ChannelNamed(*name, Place(item.source())), other);
    }
  }
  void ReadKinds(const std::string& place, const toml::node& node, std::vector<rules::AlarmKind>& kinds) const {
    const toml::array* const list = node.as_array();
    if (!list) Refuse(place, "a list of kinds of alarm such as [\"too damp\"]", TextOf(node));
    for (const toml::node& item : *list) {
      const auto name = item.value_exact<std::string>();
      if (!name) Refuse(Place(item.source()), "a kind of alarm in quotes", TextOf(item));
      kinds.push_back(KindNamed(*name, Place(item.source())));
    }
  }
  void ReadSettings(const std::string& place, const toml::node& node, OtherLimits& other) const {
    const toml::table* const settings = node.as_table();
    if (!settings) Refuse(place, "settings with their figures such as { \"door: act after\" = 30 }", TextOf(node));
    for (const auto& [id, figure] : *settings) {
      other.settings.push_back(SettingNamed(std::string(id.str()), FigureTextOf(figure), Place(id.source())));
    }
  }
  std::string Place(const toml::source_region& source) const {
    return fmt::format("{}, line {}", file_, source.begin.line);
  }

  const toml::table& table_;
  const std::string& file_;
  const CaveNames& caves_;
};

toml::table Parsed(std::string_view text, const std::string& file) {
  try {
    return toml::parse(text, file);
  } catch (const toml::parse_error& error) {
    throw std::runtime_error(
        fmt::format("{}, line {}: {}.", file, error.source().begin.line, std::string(error.description())));
  }
}

void CheckRoot(const toml::table& root, const std::string& file) {
  if (root["format"].value_or(std::int64_t{0}) != 1)
    throw std::runtime_error(fmt::format("{}: expected format = 1 in its first line.", file));
  for (const auto& [key, node] : root) {
    if (key.str() == "format" || key.str() == "cave") continue;
    RefuseName(fmt::format("{}, line {}", file, key.source().begin.line), "entry called", std::string(key.str()),
               {"format", "cave"}, "Limits stand under a [[cave]].");
  }
}

}  // namespace

std::vector<OtherLimits> ReadLimits(std::string_view text, const std::string& file, const CaveNames& caves) {
  const toml::table root = Parsed(text, file);
  CheckRoot(root, file);
  const toml::array* const list = root["cave"].as_array();
  if (!list || list->empty())
    throw std::runtime_error(fmt::format("{}: expected a [[cave]] with other limits, found none.", file));
  std::vector<OtherLimits> all;
  for (const toml::node& cave : *list) {
    const toml::table* const table = cave.as_table();
    if (!table) Refuse(fmt::format("{}, line {}", file, cave.source().begin.line), "a [[cave]]", TextOf(cave));
    all.push_back(CaveReader(*table, file, caves).Read());
  }
  return all;
}

rules::Figure SpanOf(const std::string& text, SpanKind kind, const std::string& place) {
  // The first sign may belong to the low figure.
  std::size_t between = text.find(" to "), skip = 4;
  if (between == std::string::npos) {
    between = text.find('-', 1);
    skip = 1;
  }
  const auto low = between == std::string::npos ? std::nullopt : FigureFrom(std::string_view(text).substr(0, between));
  const auto high =
      between == std::string::npos ? std::nullopt : FigureFrom(std::string_view(text).substr(between + skip));
  const Bounds bounds = BoundsOf(kind);
  if (IsSpan(low, high, bounds)) return {*low, *high, "tried"};
  Refuse(place,
         fmt::format("a span such as {}, the lower figure first, between {:g} and {:g} {}", bounds.example,
                     bounds.least, bounds.most, bounds.unit),
         '"' + text + '"');
}

SpanKind ChannelNamed(const std::string& name, const std::string& place) {
  if (name == "temperature") return SpanKind::kTemperature;
  if (name == "humidity") return SpanKind::kHumidity;
  RefuseName(place, "band of the wheels called", name, {"temperature", "humidity"}, "Write one of these.");
}

void PutOfWheels(SpanKind channel, OtherLimits& other) {
  (channel == SpanKind::kTemperature ? other.wheels_temperature : other.wheels_humidity) = true;
}

void CheckSound(const OtherLimits& other, const std::string& place) {
  const auto check_band = [&](bool typed, bool of_wheels, const char* channel) {
    if (typed && of_wheels) Refuse(place, fmt::format("a span of {0} or the wheels' own band of {0}", channel), "both");
  };
  check_band(other.temperature.has_value(), other.wheels_temperature, "temperature");
  check_band(other.humidity.has_value(), other.wheels_humidity, "humidity");
  for (const rules::AlarmKind kind : other.off) {
    if (std::ranges::count(other.judged, kind) > 0)
      Refuse(place, fmt::format("\"{}\" to be judged or not", rules::ToText(kind)), "both");
  }
}

std::pair<std::string, double> SettingOf(const std::string& text, const std::string& place) {
  const std::size_t equals = text.rfind('=');
  if (equals == std::string::npos)
    Refuse(place, "a limit and its figure such as \"door: act after=30\"", '"' + text + '"');
  std::string id = text.substr(0, equals);
  while (!id.empty() && id.back() == ' ') id.pop_back();
  return SettingNamed(id, text.substr(equals + 1), place);
}

}  // namespace rindwatch
