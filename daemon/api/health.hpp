// What a machine asks: /metrics as OpenMetrics text.
#pragma once

#include <string>

#include "daemon/api/context.hpp"
#include "web/server.hpp"

namespace rindwatch {

// OpenMetrics 1.0 text; send it as application/openmetrics-text.
std::string MetricsText(const ApiContext& context, const web::Server::Figures& server);

}  // namespace rindwatch
