#include "daemon/replay/names.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "rules/slip.hpp"

namespace rindwatch {

using rules::AlarmKind;
using rules::CaveId;

namespace {

// So many are a list that is read; of more the nearest are told.
constexpr std::size_t kMostTold = 12, kNearest = 6;

std::string Quoted(const std::string& name) { return '"' + name + '"'; }

std::string ListOf(const std::vector<std::string>& names, std::size_t count) {
  std::string list;
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0) list += i + 1 == count && count == names.size() ? " and " : ", ";
    list += Quoted(names[i]);
  }
  return list;
}

std::string KnownOf(const std::string& found, const std::vector<std::string>& known) {
  if (known.empty()) return "There are none.";
  const std::vector<std::string> nearest = rules::NearestFirst(found, known);
  if (nearest.size() == 1) return fmt::format("Only {} is known.", Quoted(nearest[0]));
  if (nearest.size() <= kMostTold) return fmt::format("Known are {}.", ListOf(nearest, nearest.size()));
  return fmt::format("The nearest of {} that are known: {}; \"rindwatch replay --names\" lists them all.",
                     nearest.size(), ListOf(nearest, kNearest));
}

std::vector<std::string> AllKinds() {
  std::vector<std::string> kinds;
  for (int kind = 0; kind <= static_cast<int>(rules::kLastAlarmKind); ++kind)
    kinds.emplace_back(ToText(static_cast<AlarmKind>(kind)));
  return kinds;
}

std::vector<std::string> AllSettings() {
  std::vector<std::string> ids;
  for (const rules::SettingRow& row : rules::SettingRows()) ids.emplace_back(row.id);
  return ids;
}

}  // namespace

std::optional<double> FigureFrom(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  double figure = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), figure);
  const bool whole = error == std::errc{} && end == text.data() + text.size() && !text.empty();
  return whole && std::isfinite(figure) ? std::optional{figure} : std::nullopt;
}

void RefuseName(const std::string& place, const std::string& what, const std::string& found,
                const std::vector<std::string>& known, const std::string& todo) {
  throw std::runtime_error(
      fmt::format("{}: there is no {} \"{}\". {} {}", place, what, found, KnownOf(found, known), todo));
}

void Refuse(const std::string& place, const std::string& expected, const std::string& found) {
  throw std::runtime_error(fmt::format("{}: expected {}, found {}.", place, expected, found));
}

CaveId CaveNamed(const CaveNames& caves, const std::string& name, const std::string& place) {
  std::vector<std::string> known;
  for (const auto& [id, own] : caves) {
    if (own == name) return id;
    known.push_back(own);
  }
  for (const auto& [id, own] : caves) {
    if (std::to_string(id) == name) return id;
  }
  RefuseName(place, "cave", name, known,
             known.empty() ? "Is this the right configuration?" : "Write one of these; its number will do, too.");
}

AlarmKind KindNamed(const std::string& name, const std::string& place) {
  if (const auto kind = rules::AlarmKindFrom(name)) return *kind;
  RefuseName(place, "kind of alarm", name, AllKinds(), "Write one of these.");
}

std::pair<std::string, double> SettingNamed(const std::string& id, const std::string& figure,
                                            const std::string& place) {
  const rules::SettingRow* row = rules::SettingRowOf(id);
  if (!row) RefuseName(place, "limit", id, AllSettings(), "Write one of these.");
  const auto value = FigureFrom(figure);
  if (value && *value >= row->least && *value <= row->most) return {id, *value};
  Refuse(place, fmt::format("\"{}\" between {:g} and {:g} {}", id, row->least, row->most, row->unit),
         value ? fmt::format("{:g}", *value) : fmt::format("\"{}\"", figure));
}

std::string AllNames(const CaveNames& caves) {
  std::string text = "Caves (--cave, name = in a file):\n";
  for (const auto& [id, name] : caves) text += fmt::format("  {:<4} {}\n", id, name);
  text += "Kinds of alarm (--off and --judged, off = and judged = in a file):\n";
  for (const std::string& kind : AllKinds()) text += fmt::format("  {}\n", kind);
  text += "Limits and delays (--set, settings = in a file), with their usual value and bounds:\n";
  const rules::Settings usual;
  for (const rules::SettingRow& row : rules::SettingRows()) {
    text += fmt::format("  {:<44} {:>7g}   {:g} to {:g} {}\n", row.id, usual.*row.field, row.least, row.most, row.unit);
  }
  return text;
}

}  // namespace rindwatch
