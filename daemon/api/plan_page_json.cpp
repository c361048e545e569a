#include <map>

#include "daemon/api/book_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/plan_json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

// Which wheels follow which version of the plan now.
std::map<int, json::array> FollowersOf(const ApiContext& context, const std::string& plan) {
  const Book& book = context.book();
  std::map<int, json::array> followers;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto standing =
        rules::StandingAt(wheel->History(), book.CalendarOf(book.PlaceOf(*wheel).cave), context.now());
    if (standing.plan && standing.plan->id == plan) followers[standing.plan->version].push_back(wheel->id);
  }
  return followers;
}

}  // namespace

json::object PlanPageJson(const ApiContext& context, const rules::Plan& plan) {
  const Book& book = context.book();
  auto followers = FollowersOf(context, plan.id);
  json::array versions;
  for (const Book::PlanVersion& version : book.VersionsOf(plan.id)) {
    json::object object{{"version", version.version}, {"wheels", followers[version.version].size()}};
    // One that came with the program was made by nobody here.
    if (version.kept && version.kept->is_new) {
      object["at"] = ToMillis(version.kept->at);
      if (!version.kept->keeper.empty()) object["keeper"] = version.kept->keeper;
    }
    versions.push_back(std::move(object));
  }
  return {{"head", HeadJson(context)},
          {"plan", PlanTextJson(plan, book.PlanFile(plan))},
          {"versions", std::move(versions)},
          {"wheels", std::move(followers[plan.version])}};
}

}  // namespace rindwatch
