#include "daemon/api/limits_change.hpp"

#include <algorithm>

#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

template <typename T>
struct Change {
  const T* now;
  T was;  // nothing was said before: as it is where nobody changed it
};

// What the line gave, and what held until then. Empty: the line gave none.
template <typename T>
std::optional<Change<T>> ChangeBy(const Book& book, const std::vector<Since<T>>& values, const std::string& act) {
  const auto own = std::ranges::find(values, act, &Since<T>::act);
  if (own == values.end()) return std::nullopt;
  const Since<T>* before = nullptr;
  for (auto value = values.begin(); value != values.end(); ++value) {
    const bool earlier = value->from < own->from || (value->from == own->from && value < own);
    if (!earlier || book.IsUndone(value->act)) continue;
    if (!before || before->from <= value->from) before = &*value;
  }
  return Change<T>{&own->value, before ? before->value : T{}};
}

void AddBand(json::object& into, const char* channel, const std::optional<rules::Figure>& was,
             const std::optional<rules::Figure>& now) {
  const auto same = [](const rules::Figure& a, const rules::Figure& b) { return a.low == b.low && a.high == b.high; };
  if (was.has_value() == now.has_value() && (!was || same(*was, *now))) return;
  json::object change;
  SetSpan(change, "was", was);
  SetSpan(change, "now", now);
  into[channel] = std::move(change);
}

void AddSettings(json::object& into, const CaveWatching& was, const CaveWatching& now) {
  const rules::Settings before = rules::SettingsWith(was.own), after = rules::SettingsWith(now.own);
  json::array settings;
  for (const rules::SettingRow& row : rules::SettingRows()) {
    if (before.*row.field == after.*row.field) continue;
    settings.push_back({{"id", row.id}, {"unit", row.unit}, {"was", before.*row.field}, {"now", after.*row.field}});
  }
  if (!settings.empty()) into["settings"] = std::move(settings);
}

// The kinds of the one that the other has not.
void AddKinds(json::object& into, const char* name, const CaveWatching& in, const CaveWatching& not_in) {
  json::array kinds;
  for (const rules::AlarmKind kind : in.out_of_service) {
    if (std::ranges::count(not_in.out_of_service, kind) == 0) kinds.push_back(json::string(rules::ToText(kind)));
  }
  if (!kinds.empty()) into[name] = std::move(kinds);
}

}  // namespace

void AddLimitsChange(const Book& book, const JournalLine& line, json::object& into) {
  const CaveRow* cave = line.cave ? book.Cave(*line.cave) : nullptr;
  if (!cave) return;
  json::object changed;
  if (line.kind == "limits") {
    if (const auto change = ChangeBy(book, cave->limits, line.id)) {
      AddBand(changed, "temperature", change->was.temperature, change->now->temperature);
      AddBand(changed, "humidity", change->was.humidity, change->now->humidity);
    }
  } else if (line.kind == "watching") {
    if (const auto change = ChangeBy(book, cave->watching, line.id)) {
      AddSettings(changed, change->was, *change->now);
      AddKinds(changed, "struck", *change->now, change->was);
      AddKinds(changed, "judged", change->was, *change->now);
      if (change->was.ready_cheese != change->now->ready_cheese) changed["ready_cheese"] = change->now->ready_cheese;
    }
  }
  if (!changed.empty()) into["limits"] = std::move(changed);
}

}  // namespace rindwatch
