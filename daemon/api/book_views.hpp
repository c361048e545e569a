// What the API tells of plans and settings, as openapi.yaml describes it; the loop's thread.
#pragma once

#include "daemon/api/views.hpp"
#include "web/router.hpp"

namespace rindwatch {

// `plan` must be in the book.
boost::json::object PlanPageJson(const ApiContext& context, const rules::Plan& plan);
// What a change of a plan would do; keeps nothing. Throws ActFault for a request that is not sound.
boost::json::object PlanPreviewJson(const ApiContext& context, const boost::json::object& wanted);
boost::json::object SettingsJson(const ApiContext& context);

// The path of the calendar with this secret.
std::string FeedPath(const std::string& secret);

// `context` must outlive the router.
void AddBookRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
