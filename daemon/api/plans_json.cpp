#include <algorithm>
#include <set>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

void AddCares(const std::vector<rules::Stage>& stages, std::vector<rules::CareKind>& cares) {
  const auto add = [&cares](rules::CareKind kind) {
    if (std::ranges::find(cares, kind) == cares.end()) cares.push_back(kind);
  };
  for (const rules::Stage& stage : stages) {
    for (const rules::Care& care : stage.cares) {
      std::ranges::for_each(care.brings, add);
      std::ranges::for_each(care.kinds, add);
    }
  }
}

std::vector<rules::CareKind> CaresOf(const rules::Part& part) {
  std::vector<rules::CareKind> cares;
  AddCares(part.stages, cares);
  if (part.branch) {
    for (const rules::BranchOption& option : part.branch->options) AddCares(option.stages, cares);
  }
  return cares;
}

json::object PlanJson(const rules::Plan& plan) {
  std::vector<rules::CareKind> all;
  json::array parts;
  for (const rules::Part& part : plan.parts) {
    const auto cares = CaresOf(part);
    for (const rules::CareKind kind : cares) {
      if (std::ranges::find(all, kind) == all.end()) all.push_back(kind);
    }
    if (&part == &plan.parts.front()) continue;
    json::object object{{"start", rules::ToText(part.start)}, {"question", part.question}, {"cares", KindsJson(cares)}};
    if (part.usual_days) {
      object["usual_low"] = part.usual_days->low;
      object["usual_high"] = part.usual_days->high;
    }
    parts.push_back(std::move(object));
  }
  json::array cautions;
  for (const std::string& caution : plan.cautions) cautions.push_back(json::string(caution));
  return {{"id", plan.id},
          {"version", plan.version},
          {"family", plan.family},
          {"rind", rules::ToText(plan.rind)},
          {"rind_words", plan.rind_words},
          {"parts", std::move(parts)},
          {"cares", KindsJson(all)},
          {"cautions", std::move(cautions)}};
}

}  // namespace

json::object PlansJson(const ApiContext& context) {
  json::array plans, caves;
  for (const auto& plan : context.book().Offered()) plans.push_back(PlanJson(*plan));
  for (const CaveRow* cave : context.book().Caves()) {
    json::object object{{"id", cave->id}, {"kind", ToText(cave->kind)}, {"name", cave->name}};
    if (cave->inside) object["inside"] = *cave->inside;
    caves.push_back(std::move(object));
  }
  return {{"head", HeadJson(context)}, {"plans", std::move(plans)}, {"caves", std::move(caves)}};
}

}  // namespace rindwatch
