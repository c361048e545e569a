// The handlers of the HTTP API, over whatever carries requests: the network, the Unix socket, the command line itself.
#pragma once

#include <functional>

#include "daemon/api/context.hpp"
#include "web/router.hpp"
#include "web/server.hpp"

namespace rindwatch {

// `context` and `figures` must outlive the router.
void AddApi(web::Router& router, const ApiContext& context, std::function<web::Server::Figures()> figures);

}  // namespace rindwatch
