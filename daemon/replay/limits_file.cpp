#include "daemon/replay/limits_file.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <charconv>
#include <cmath>
#include <sstream>
#include <stdexcept>

namespace rindwatch {

namespace {

std::optional<double> NumberFrom(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  double number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  const bool whole = error == std::errc{} && end == text.data() + text.size() && !text.empty();
  return whole && std::isfinite(number) ? std::optional{number} : std::nullopt;
}

std::pair<std::string, double> Checked(const std::string& id, double value) {
  const rules::SettingRow* row = rules::SettingRowOf(id);
  if (!row) throw std::runtime_error(fmt::format("Nobody knows a setting \"{}\".", id));
  if (value >= row->least && value <= row->most) return {id, value};
  throw std::runtime_error(
      fmt::format("\"{}\" lies between {:g} and {:g} {}; found {:g}.", id, row->least, row->most, row->unit, value));
}

rules::AlarmKind KindNamed(const std::string& name) {
  if (const auto kind = rules::AlarmKindFrom(name)) return *kind;
  throw std::runtime_error(fmt::format("Nobody knows an alarm \"{}\".", name));
}

// One [[cave]] of the file.
class CaveReader {
 public:
  CaveReader(const toml::table& table, const std::string& file, const CaveNamed& cave_named)
      : table_(table), file_(file), cave_named_(cave_named) {}

  OtherLimits Read() const {
    OtherLimits other;
    for (const auto& [key, node] : table_) ReadOne(key.str(), node, other);
    return other;
  }

 private:
  void ReadOne(std::string_view key, const toml::node& node, OtherLimits& other) const {
    if (key == "name") {
      other.cave = Cave(node);
    } else if (key == "temperature") {
      other.temperature = Span(node);
    } else if (key == "humidity") {
      other.humidity = Span(node);
    } else if (key == "off") {
      ReadOff(node, other);
    } else if (key == "settings") {
      ReadSettings(node, other);
    } else {
      Fail(node, "name, temperature, humidity, off or settings", std::string(key));
    }
  }
  rules::CaveId Cave(const toml::node& node) const {
    const auto name = node.value_exact<std::string>();
    const auto cave = name ? cave_named_(*name) : std::nullopt;
    if (!cave) Fail(node, "the name of a cave", name.value_or("something else"));
    return *cave;
  }
  rules::Figure Span(const toml::node& node) const {
    const toml::table* const span = node.as_table();
    const auto low = span ? (*span)["low"].value<double>() : std::nullopt;
    const auto high = span ? (*span)["high"].value<double>() : std::nullopt;
    if (!low || !high || !(*low < *high)) Fail(node, "{ low = ..., high = ... } with low below high", "something else");
    return {*low, *high, "tried"};
  }
  void ReadOff(const toml::node& node, OtherLimits& other) const {
    const toml::array* const list = node.as_array();
    if (!list) Fail(node, "a list of kinds of alarm", "something else");
    for (const toml::node& item : *list) {
      Placed(item, [&] { other.off.push_back(KindNamed(item.value_or(std::string{}))); });
    }
  }
  void ReadSettings(const toml::node& node, OtherLimits& other) const {
    const toml::table* const settings = node.as_table();
    if (!settings) Fail(node, "settings with their figures", "something else");
    for (const auto& [id, figure] : *settings) {
      Placed(figure, [&, name = std::string(id.str())] {
        other.settings.push_back(Checked(name, figure.value<double>().value_or(NAN)));
      });
    }
  }
  // Adds file and line to what goes wrong.
  template <typename Read>
  void Placed(const toml::node& node, Read read) const {
    try {
      read();
    } catch (const std::runtime_error& error) {
      throw std::runtime_error(fmt::format("{}, line {}: {}", file_, node.source().begin.line, error.what()));
    }
  }
  [[noreturn]] void Fail(const toml::node& node, const std::string& expected, const std::string& found) const {
    throw std::runtime_error(
        fmt::format("{}, line {}: expected {}, found {}.", file_, node.source().begin.line, expected, found));
  }

  const toml::table& table_;
  const std::string& file_;
  const CaveNamed& cave_named_;
};

toml::table Parsed(std::string_view text, const std::string& file) {
  try {
    return toml::parse(text, file);
  } catch (const toml::parse_error& error) {
    throw std::runtime_error(
        fmt::format("{}, line {}: {}.", file, error.source().begin.line, std::string(error.description())));
  }
}

}  // namespace

std::vector<OtherLimits> ReadLimits(std::string_view text, const std::string& file, const CaveNamed& cave_named) {
  const toml::table root = Parsed(text, file);
  if (root["format"].value_or(std::int64_t{0}) != 1)
    throw std::runtime_error(fmt::format("{}: expected format = 1 in its first line.", file));
  const toml::array* const caves = root["cave"].as_array();
  if (!caves) throw std::runtime_error(fmt::format("{}: expected a [[cave]] with other limits, found none.", file));
  std::vector<OtherLimits> all;
  for (const toml::node& cave : *caves) {
    if (const toml::table* const table = cave.as_table()) all.push_back(CaveReader(*table, file, cave_named).Read());
  }
  return all;
}

rules::Figure SpanOf(const std::string& text, const std::string& what) {
  // The first sign may belong to the low figure.
  std::size_t between = text.find(" to "), skip = 4;
  if (between == std::string::npos) {
    between = text.find('-', 1);
    skip = 1;
  }
  const auto low = between == std::string::npos ? std::nullopt : NumberFrom(std::string_view(text).substr(0, between));
  const auto high =
      between == std::string::npos ? std::nullopt : NumberFrom(std::string_view(text).substr(between + skip));
  if (low && high && *low < *high) return {*low, *high, "tried"};
  throw std::runtime_error(fmt::format("\"{}\" is no span of {}; expected one such as 10-14.", text, what));
}

std::pair<std::string, double> SettingOf(const std::string& text) {
  const std::size_t equals = text.rfind('=');
  const auto value = equals == std::string::npos ? std::nullopt : NumberFrom(std::string_view(text).substr(equals + 1));
  if (!value)
    throw std::runtime_error(fmt::format("\"{}\" is no setting; expected one such as \"door: act after=30\".", text));
  return Checked(text.substr(0, equals), *value);
}

}  // namespace rindwatch
