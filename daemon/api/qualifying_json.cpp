#include "daemon/api/qualifying_json.hpp"

#include "daemon/api/json.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "daemon/book/law.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::object RuleOf(const Book& book, const WheelRow& wheel) {
  const auto* rule = book.RuleOf(wheel);
  json::object object = RuleJson(*rule->value);
  if (const std::string* keeper = book.KeeperOf(rule->act)) object["typed_by"] = *keeper;
  object["typed_at"] = ToMillis(rule->from);
  return object;
}

json::array DaysJson(const rules::QualifyingAge& age) {
  json::array days;
  for (const rules::JudgedDay& day : age.days) {
    json::object object{{"day", DayJson(day.day)}, {"is", rules::ToText(day.is)}};
    if (day.low) object["low"] = day.low->value;
    days.push_back(std::move(object));
  }
  return days;
}

json::array VouchesJson(const std::vector<rules::Vouch>& vouches) {
  json::array array;
  for (const rules::Vouch& vouch : vouches) {
    array.push_back({{"act", vouch.id.Text()},
                     {"from", DayJson(vouch.from)},
                     {"to", DayJson(vouch.to)},
                     {"name", vouch.name},
                     {"reason", vouch.reason}});
  }
  return array;
}

std::optional<rules::Date> ReadyTo(const ApiContext& context, const WheelRow& wheel) {
  const auto windows = ReadyWindowsOf(context, wheel);
  return windows.empty() ? std::nullopt : std::optional(windows.front().to);
}

}  // namespace

bool ClosesBeforeLawful(const std::optional<rules::Date>& lawful, const std::optional<rules::Date>& ready_to) {
  return lawful && ready_to && *ready_to < *lawful;
}

json::object QualifyingJson(const ApiContext& context, const WheelRow& wheel, const rules::QualifyingAge& age) {
  const Book& book = context.book();
  json::object object{
      {"rule", RuleOf(book, wheel)}, {"proven", age.proven},
      {"vouched", age.vouched},      {"missing", age.missing},
      {"unproven", age.unproven},    {"not_counting", age.not_counting},
      {"counted", age.Counted()},    {"of", age.of},
      {"reached", age.Reached()},    {"lawful_after_ready", ClosesBeforeLawful(age.earliest, ReadyTo(context, wheel))},
      {"days", DaysJson(age)},       {"vouches", VouchesJson(book.VouchesOf(wheel))}};
  if (age.earliest) object["earliest"] = DayJson(*age.earliest);
  if (const auto* release = book.ReleaseOf(wheel)) {
    json::object released{{"at", ToMillis(release->from)}, {"act", release->act.Text()}};
    if (const auto& by = release->value.override_by)
      released["override"] = {{"name", by->name}, {"reason", by->reason}};
    object["released"] = std::move(released);
  }
  return object;
}

void WheelsWithAgesJson(const ApiContext& context, JsonDone done) {
  std::vector<rules::WheelId> wheels;
  for (const WheelRow* wheel : context.book().Wheels()) wheels.push_back(wheel->id);
  AgesOf(context, wheels, [context, done = std::move(done)](const QualifyingAges& ages) {
    json::object answer = WheelsJson(context);
    for (json::value& wheel : answer["wheels"].as_array()) {
      const auto age = ages.find(wheel.at("id").to_number<rules::WheelId>());
      const WheelRow* row = age == ages.end() ? nullptr : context.book().Wheel(age->first);
      if (!row || !context.book().RuleOf(*row)) continue;
      json::object qualifying = QualifyingJson(context, *row, age->second);
      qualifying["days"] = json::array{};
      wheel.as_object()["qualifying"] = std::move(qualifying);
    }
    done(std::move(answer));
  });
}

}  // namespace rindwatch
