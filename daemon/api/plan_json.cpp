#include "daemon/api/plan_json.hpp"

#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::array Texts(const std::vector<std::string>& texts) {
  json::array array;
  for (const std::string& text : texts) array.push_back(json::string(text));
  return array;
}

struct AddCadence {
  json::object& into;
  void operator()(const rules::EveryDays& every) const { into["every_days"] = every.days; }
  void operator()(const rules::TimesAWeek& week) const { into["times_a_week"] = week.times; }
  void operator()(const rules::OnceOnDay& once) const { into["on_day"] = once.day; }
  void operator()(const rules::MorningAndEvening&) const { into["morning_and_evening"] = true; }
  void operator()(const rules::OnlyTogether&) const {}
};

json::object WashJson(const rules::Wash& wash) {
  json::array additions;
  for (const rules::WashAddition& addition : wash.additions) {
    additions.push_back(
        {{"name", addition.name}, {"ml_per_litre", addition.ml_per_litre}, {"source", addition.source}});
  }
  return {{"salt", SpanJson(wash.salt)}, {"additions", std::move(additions)}, {"note", wash.note}};
}

json::object CareJson(const rules::Care& care) {
  json::object object{{"kinds", KindsJson(care.kinds)},
                      {"brings", KindsJson(care.brings)},
                      {"note", care.note},
                      {"source", care.source},
                      {"cautions", Texts(care.cautions)}};
  std::visit(AddCadence{object}, care.cadence);
  if (care.tolerance) object["tolerance"] = *care.tolerance;
  if (care.wash) object["wash"] = WashJson(*care.wash);
  return object;
}

json::object StageJson(const rules::Stage& stage) {
  json::array cares;
  for (const rules::Care& care : stage.cares) cares.push_back(CareJson(care));
  json::object object{{"name", stage.name},           {"state", rules::ToText(stage.state)},
                      {"first_day", stage.first_day}, {"counts", stage.counts},
                      {"source", stage.source},       {"cares", std::move(cares)}};
  if (stage.last_day) object["last_day"] = *stage.last_day;
  SetSpan(object, "temperature_target", stage.temperature_target);
  SetSpan(object, "temperature_band", stage.temperature_band);
  SetSpan(object, "humidity_target", stage.humidity_target);
  SetSpan(object, "humidity_band", stage.humidity_band);
  return object;
}

json::array StagesJson(const std::vector<rules::Stage>& stages) {
  json::array array;
  for (const rules::Stage& stage : stages) array.push_back(StageJson(stage));
  return array;
}

json::object BranchJson(const rules::Branch& branch) {
  json::array options;
  for (const rules::BranchOption& option : branch.options) {
    json::object& road = options.emplace_back(json::object{}).as_object();
    road = {{"name", option.name}, {"stages", StagesJson(option.stages)}};
    if (option.ready_days) road["ready"] = SpanJson(*option.ready_days);
  }
  return {{"question", branch.question},
          {"asked_from", branch.asked_from},
          {"default_option", branch.default_option},
          {"options", std::move(options)}};
}

json::object PartJson(const rules::Part& part) {
  json::object object{
      {"start", rules::ToText(part.start)}, {"question", part.question}, {"stages", StagesJson(part.stages)}};
  SetSpan(object, "usual_days", part.usual_days);
  if (part.branch) object["branch"] = BranchJson(*part.branch);
  return object;
}

}  // namespace

json::object PlanTextJson(const rules::Plan& plan, std::string text) {
  json::array parts;
  for (const rules::Part& part : plan.parts) parts.push_back(PartJson(part));
  json::object object{{"id", plan.id},
                      {"version", plan.version},
                      {"family", plan.family},
                      {"rind", rules::ToText(plan.rind)},
                      {"text", std::move(text)},
                      {"cautions", Texts(plan.cautions)},
                      {"parts", std::move(parts)}};
  if (plan.ready_days) {
    json::object ready = SpanJson(*plan.ready_days);
    ready["counted_from"] = rules::ToText(plan.ready_from);
    object["ready"] = std::move(ready);
  }
  return object;
}

}  // namespace rindwatch
