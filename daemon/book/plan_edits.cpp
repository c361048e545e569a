#include "daemon/book/plan_edits.hpp"

#include <fmt/format.h>

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

// Enough for a plan that is changed from end to end.
constexpr std::size_t kMostEdits = 500;
constexpr std::int64_t kMostDays = 36'500;

std::size_t Index(const object& edit, const char* name) {
  const auto index = fields::Whole(edit, name);
  if (index < 0 || index > 1000) {
    throw ActFault{fmt::format("{} counts from 0.", name), name, "0 or more", std::to_string(index), ""};
  }
  return static_cast<std::size_t>(index);
}

std::optional<int> MaybeDays(const object& from, const char* name) {
  const auto days = fields::MaybeWhole(from, name);
  if (!days) return std::nullopt;
  if (*days < 0 || *days > kMostDays) {
    throw ActFault{fmt::format("{} lies between 0 and {}.", name, kMostDays), name, fmt::format("0 to {}", kMostDays),
                   std::to_string(*days), ""};
  }
  return static_cast<int>(*days);
}

std::optional<rules::PlanSpan> MaybeSpan(const object& from, const char* name) {
  const object* span = fields::MaybeObject(from, name);
  if (!span) return std::nullopt;
  return rules::PlanSpan{fields::Number(*span, "low"), fields::Number(*span, "high")};
}

std::optional<rules::Cadence> MaybeCadence(const object& from) {
  std::optional<rules::Cadence> cadence;
  int said = 0;
  const auto say = [&](rules::Cadence wanted) {
    cadence = wanted;
    ++said;
  };
  if (const auto days = MaybeDays(from, "every_days")) say(rules::EveryDays{*days});
  if (const auto times = MaybeDays(from, "times_a_week")) say(rules::TimesAWeek{*times});
  if (const auto day = MaybeDays(from, "on_day")) say(rules::OnceOnDay{*day});
  if (fields::TruthOr(from, "morning_and_evening", false)) say(rules::MorningAndEvening{});
  if (said > 1) {
    throw ActFault{"A care has one cadence.", "every_days",
                   "one of every_days, times_a_week, on_day, morning_and_evening", fmt::format("{} of them", said), ""};
  }
  return cadence;
}

rules::PlanSetting SettingFrom(const object& set) {
  rules::PlanSetting setting;
  setting.temperature_target = MaybeSpan(set, "temperature_target");
  setting.temperature_band = MaybeSpan(set, "temperature_band");
  setting.humidity_target = MaybeSpan(set, "humidity_target");
  setting.humidity_band = MaybeSpan(set, "humidity_band");
  setting.last_day = MaybeDays(set, "last_day");
  setting.cadence = MaybeCadence(set);
  setting.tolerance = MaybeDays(set, "tolerance");
  if (set.contains("note") && !set.at("note").is_null()) setting.note = fields::TextOr(set, "note", "");
  setting.salt = MaybeSpan(set, "salt");
  setting.ready = MaybeSpan(set, "ready");
  return setting;
}

rules::PlanEdit EditFrom(const object& object) {
  rules::PlanEdit edit;
  edit.place.part = Index(object, "part");
  edit.place.option = fields::TextOr(object, "option", "");
  edit.place.stage = Index(object, "stage");
  if (fields::MaybeWhole(object, "care")) edit.place.care = Index(object, "care");
  if (const auto* set = fields::MaybeObject(object, "set")) edit.set = SettingFrom(*set);
  if (const auto* add = fields::MaybeObject(object, "add")) {
    edit.add = {fields::Kinds(*add, "kinds"), fields::Kinds(*add, "brings"),
                MaybeCadence(*add).value_or(rules::OnlyTogether{}), MaybeSpan(*add, "salt")};
  }
  edit.remove = fields::TruthOr(object, "remove", false);
  edit.why = fields::TextOr(object, "why", "");
  return edit;
}

}  // namespace

std::vector<rules::PlanEdit> PlanEditsFrom(const object& body) {
  const json::array& list = fields::Array(body, "edits");
  if (list.empty() || list.size() > kMostEdits) {
    throw ActFault{fmt::format("A new version comes of 1 to {} edits.", kMostEdits), "edits",
                   fmt::format("1 to {}", kMostEdits), std::to_string(list.size()), ""};
  }
  std::vector<rules::PlanEdit> edits;
  for (const json::value& item : list) {
    const std::string place = fmt::format("edits[{}]", edits.size());
    if (!item.is_object()) throw ActFault{"An edit is an object.", place, "an object", "another value", ""};
    try {
      edits.push_back(EditFrom(item.as_object()));
    } catch (ActFault& fault) {
      fault.field = place + "." + fault.field;
      throw;
    }
  }
  return edits;
}

}  // namespace rindwatch
