// What the API tells beyond today: faults, absences, what comes, what fits, and the days that count for the law. Each
// as openapi.yaml describes it; the loop's thread.
#pragma once

#include "daemon/api/views.hpp"
#include "web/router.hpp"

namespace rindwatch {

boost::json::object FaultsJson(const ApiContext& context);

// `context` must outlive the router.
void AddAheadRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
