#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"

namespace rindwatch {

using web::Answer;
using web::Request;

void AddAheadRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/faults",
             [&context](const Request&, const Answer& answer) { answer(JsonResponse(FaultsJson(context))); });
}

}  // namespace rindwatch
