// The handlers of the HTTP API, over whatever carries requests: the network, the Unix socket, the command line itself.
#pragma once

#include <functional>

#include "daemon/api/context.hpp"
#include "web/router.hpp"
#include "web/server.hpp"

namespace rindwatch {

// `context` and `figures` must outlive the router.
void AddApi(web::Router& router, const ApiContext& context, std::function<web::Server::Figures()> figures);

// POST /api/acts as a function: the one way in for every act.
void TakeAct(const ApiContext& context, const web::Request& request, const web::Answer& answer);

}  // namespace rindwatch
