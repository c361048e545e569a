// The addresses of a cave's limits; the loop's thread.
#pragma once

#include "daemon/api/context.hpp"
#include "web/router.hpp"

namespace rindwatch {

// `context` must outlive the router.
void AddLimitsRoutes(web::Router& router, const ApiContext& context);

}  // namespace rindwatch
