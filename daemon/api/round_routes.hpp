// The round's addresses: as JSON, as the morning's list, as a calendar.
#pragma once

#include "daemon/api/context.hpp"
#include "web/router.hpp"

namespace rindwatch {

// `context` must outlive the router.
void AddRoundRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
