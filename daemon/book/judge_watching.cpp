#include "daemon/book/judge_watching.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

void CheckSetting(std::string_view id, const json::value& value) {
  const rules::SettingRow* row = rules::SettingRowOf(id);
  if (!row) {
    throw ActFault{fmt::format("Nobody knows a setting \"{}\".", id), "settings", "a setting of the watch",
                   std::string(id), "Load the page anew; it may be older or newer than the daemon."};
  }
  const double number = value.is_number() ? value.to_number<double>() : NAN;
  if (number >= row->least && number <= row->most) return;
  throw ActFault{fmt::format("\"{}\" lies between {:g} and {:g} {}.", id, row->least, row->most, row->unit), "settings",
                 fmt::format("{:g} to {:g}", row->least, row->most), json::serialize(value), "Type another figure."};
}

void CheckKind(const std::string& name) {
  const auto kind = rules::AlarmKindFrom(name);
  if (!kind) throw ActFault{fmt::format("Nobody knows an alarm \"{}\".", name), "off", "a kind of alarm", name, ""};
  // People first: where gas is measured it is judged.
  if (!rules::IsGas(*kind)) return;
  throw ActFault{"Gas is judged wherever it is measured: people breathe it.", "off", "a kind of alarm other than gas",
                 name, "If its probe is broken, take the probe down."};
}

}  // namespace

json::object JudgeWatching(const Book& book, const json::object& body, JournalLine& line) {
  NameCave(book, body, line);
  for (const auto& [id, value] : fields::Object(body, "settings")) CheckSetting(id, value);
  fields::Array(body, "off");
  for (const std::string& name : fields::Texts(body, "off")) CheckKind(name);
  fields::Truth(body, "ready_cheese");
  return {};
}

CaveWatching WatchingFrom(const json::object& value) {
  CaveWatching watching;
  for (const auto& [id, number] : fields::Object(value, "settings")) {
    if (number.is_number()) watching.own.emplace_back(std::string(id), number.to_number<double>());
  }
  for (const std::string& name : fields::Texts(value, "off")) {
    const auto kind = rules::AlarmKindFrom(name);
    if (kind && std::ranges::count(watching.out_of_service, *kind) == 0) watching.out_of_service.push_back(*kind);
  }
  watching.ready_cheese = fields::TruthOr(value, "ready_cheese", false);
  return watching;
}

}  // namespace rindwatch
