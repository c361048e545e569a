// The facts of acts on plans.
#include "daemon/book/fact_sheet.hpp"

namespace rindwatch {

// The wheels follow the version from the act on; what was done before keeps the one that it was done under.
void PlanFacts(FactSheet& sheet) {
  if (sheet.given.contains("plan_text")) {
    sheet.Add("plan", 0, "text",
              {{"plan", sheet.body.at("plan")},
               {"version", sheet.body.at("version")},
               {"text", sheet.given.at("plan_text")}});
  }
  sheet.ForWheels("plan", {{"plan", sheet.body.at("plan")}, {"version", sheet.body.at("version")}});
  sheet.Starts();
}

void PlanTextFacts(FactSheet& sheet) {
  const auto &plan = sheet.given.at("plan"), &version = sheet.given.at("version");
  sheet.Add("plan", 0, "text", {{"plan", plan}, {"version", version}, {"text", sheet.given.at("plan_text")}});
  sheet.ForWheels("plan", {{"plan", plan}, {"version", version}});
  sheet.Starts();
}

}  // namespace rindwatch
