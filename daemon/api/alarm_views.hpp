// What the API tells of alarms beside the head, as openapi.yaml describes it; the loop's thread.
#pragma once

#include <string>
#include <vector>

#include "daemon/api/views.hpp"
#include "web/router.hpp"

namespace rindwatch {

// Those of the engine in the order in which they are told: gas, taken or not; what rings, the most severe first; what
// lasts and is quiet; what lasts and is taken; what lasts and can wait; what is over and nobody has seen.
std::vector<rules::Alarm> AlarmsAsTold(const ApiContext& context);
// One alarm, standing or long over, with the cave's ribbon of its time and the lines of the journal about it. Empty if
// there is none of this id.
void AlarmPageJson(const ApiContext& context, const std::string& id, JsonDone done);
// Those of the last weeks that are over.
boost::json::object AlarmsJson(const ApiContext& context);

// `context` must outlive the router.
void AddAlarmRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
