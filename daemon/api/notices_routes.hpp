// What the API tells of notices: who hears what, what went out, and the trying of an address. The loop's thread.
#pragma once

#include "daemon/api/context.hpp"
#include "web/router.hpp"

namespace rindwatch {

// `context` must outlive the router.
void AddNoticesRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
