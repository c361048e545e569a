#include <algorithm>

#include "daemon/api/away_plan.hpp"
#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

// Of the rinds that a helper meets; drops where there is a lid.
json::array NormalJson(const AwayPlan& plan) {
  constexpr std::pair<rules::RindClass, const char*> kNormal[] = {{rules::RindClass::kFreshAndWhite, "white"},
                                                                  {rules::RindClass::kNaturalAndPressed, "grey"},
                                                                  {rules::RindClass::kWashed, "orange"},
                                                                  {rules::RindClass::kBlue, "blue"}};
  const auto any = [&](auto is) { return std::ranges::any_of(plan.lives, is); };
  json::array array;
  for (const auto& [rind, key] : kNormal) {
    if (any([r = rind](const LeftLife& life) { return life.Rind() == r; })) {
      array.push_back(json::string(std::string("sheet.normal.") + key));
    }
  }
  if (any([](const LeftLife& life) { return life.InBox(); })) array.push_back("sheet.normal.drops");
  return array;
}

json::array MarkedJson(const Book& book) {
  json::array marked;
  for (const auto* absence : book.Absences()) {
    json::array caves;
    for (const rules::CaveId cave : absence->value.caves) caves.push_back(cave);
    marked.push_back({{"act", absence->act.Text()},
                      {"from", DayJson(absence->value.from)},
                      {"back", DayJson(absence->value.back)},
                      {"caves", std::move(caves)}});
  }
  return marked;
}

}  // namespace

json::object AwayJson(const ApiContext& context, const AwayQuestion& question) {
  AwayPlan plan{context, question, {}, {}, {}};
  PlanAway(plan);
  return {{"head", HeadJson(context)},           {"from", DayJson(question.from)}, {"back", DayJson(question.back)},
          {"visits", VisitsJson(plan)},          {"lanes", LanesJson(plan)},       {"without", WithoutJson(plan)},
          {"no_visit", NoVisitJson(plan)},       {"before", BeforeJson(plan)},     {"normal", NormalJson(plan)},
          {"marked", MarkedJson(context.book())}};
}

}  // namespace rindwatch
