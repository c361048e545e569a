#include <charconv>

#include "daemon/api/book_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/book/fields.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;
using web::Response;

namespace {

std::shared_ptr<const rules::Plan> PlanIn(const ApiContext& context, const Request& request) {
  const std::string_view text = request.Name("version");
  int version = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), version);
  if (error != std::errc{} || end != text.data() + text.size()) return nullptr;
  return context.book().Plan(std::string(request.Name("plan")), version);
}

Response NoPlan(const Request& request) {
  return web::Complain(404, {.what = "There is no such version of a plan in the book.",
                             .expected = "a plan and its version",
                             .found = request.path,
                             .action = "Go back and look again."});
}

Response Preview(const ApiContext& context, const Request& request) {
  boost::system::error_code error;
  const json::value wanted = json::parse(request.body, error);
  if (error || !wanted.is_object()) {
    return web::Complain(422, {.what = "A preview is asked for with one JSON object.",
                               .expected = "a JSON object",
                               .found = error ? error.message() : "another JSON value"});
  }
  try {
    return JsonResponse(PlanPreviewJson(context, wanted.as_object()));
  } catch (const ActFault& fault) {
    return web::Complain(422, {.what = fault.what,
                               .expected = fault.expected,
                               .found = fault.found,
                               .action = fault.todo,
                               .field = fault.field});
  }
}

}  // namespace

void AddBookRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/settings",
             [&context](const Request&, const Answer& answer) { answer(JsonResponse(SettingsJson(context))); });
  router.Get("/api/plans/{plan}/{version}", [&context](const Request& request, const Answer& answer) {
    const auto plan = PlanIn(context, request);
    answer(plan ? JsonResponse(PlanPageJson(context, *plan)) : NoPlan(request));
  });
  router.Post("/api/plans/preview",
              [&context](const Request& request, const Answer& answer) { answer(Preview(context, request)); });
}

}  // namespace rindwatch
