// What the API tells beyond today: faults, absences, what comes, what fits, and the days that count for the law. Each
// as openapi.yaml describes it; the loop's thread.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "daemon/api/views.hpp"
#include "rules/release/qualifying.hpp"
#include "web/router.hpp"

namespace rindwatch {

boost::json::object FaultsJson(const ApiContext& context);

struct AwayQuestion {
  rules::Date from, back;            // back is the first day there again, after `from`
  std::vector<rules::CaveId> caves;  // none: all
};
inline constexpr int kLongestAbsence = 92;  // days
boost::json::object AwayJson(const ApiContext& context, const AwayQuestion& question);
// While somebody was away: `back` may be today.
void ReturnedJson(const ApiContext& context, const AwayQuestion& question, JsonDone done);

struct AheadQuestion {
  int weeks = 9;
  std::optional<rules::Date> wanted;
};
inline constexpr int kMostWeeks = 105;
boost::json::object AheadJson(const ApiContext& context, const AheadQuestion& question);

struct FitQuestion {
  std::shared_ptr<const rules::Plan> plan;
  const CaveRow* cave = nullptr;  // of the book; null: one that is still to come, where nobody lies
  rules::Date made;
  std::optional<rules::QualifyingRule> rule{};  // that is typed with the wheel; none: the one typed last for its plan
};
boost::json::object FitJson(const ApiContext& context, const FitQuestion& question);

// `context` must outlive the router.
void AddAheadRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
