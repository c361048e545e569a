#include "daemon/api/limits_routes.hpp"

#include <charconv>
#include <memory>

#include "daemon/api/json.hpp"
#include "daemon/api/limits_json.hpp"
#include "daemon/api/limits_trial.hpp"
#include "daemon/book/fields.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;
using web::Response;

namespace {

std::optional<std::int64_t> NumberIn(const Request& request, const char* name) {
  const std::string_view text = request.Name(name);
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

const CaveRow* CaveIn(const ApiContext& context, const Request& request) {
  const auto id = NumberIn(request, "cave");
  return id ? context.book().Cave(*id) : nullptr;
}

Response NoCave(const Request& request) {
  return web::Complain(404, {.what = "There is no such cave in the book.",
                             .expected = "the number of one that is there",
                             .found = request.path,
                             .action = "Go back and look again."});
}

Response Busy() {
  return web::Complain(503,
                       {.what = "Limits are being tried already, and more wait.", .action = "Try again in a minute."});
}

Response Begin(LimitsTrials& trials, const CaveRow& cave, const Request& request) {
  boost::system::error_code error;
  const json::value wanted = json::parse(request.body, error);
  if (error || !wanted.is_object()) {
    return web::Complain(422, {.what = "Limits to try are one JSON object.",
                               .expected = "a JSON object",
                               .found = error ? error.message() : "another JSON value"});
  }
  try {
    const auto number = trials.Begin(cave, wanted.as_object());
    return number ? JsonResponse(json::object{{"trial", *number}}, 202) : Busy();
  } catch (const ActFault& fault) {
    return web::Complain(422, {.what = fault.what,
                               .expected = fault.expected,
                               .found = fault.found,
                               .action = fault.todo,
                               .field = fault.field});
  }
}

Response Look(const LimitsTrials& trials, const Request& request) {
  const auto number = NumberIn(request, "trial");
  const json::object* trial = number ? trials.Look(*number) : nullptr;
  if (trial) return JsonResponse(*trial);
  return web::Complain(404, {.what = "There is no such trial of limits, or it was long ago.",
                             .expected = "the number of one that was begun",
                             .found = request.path,
                             .action = "Try the limits again."});
}

}  // namespace

void AddLimitsRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/caves/{cave}/limits", [&context](const Request& request, const Answer& answer) {
    const CaveRow* cave = CaveIn(context, request);
    answer(cave ? JsonResponse(LimitsPageJson(context, *cave)) : NoCave(request));
  });
  if (!context.replays) return;
  const auto trials = std::make_shared<LimitsTrials>(context, *context.replays);
  router.Post("/api/caves/{cave}/limits/trials", [&context, trials](const Request& request, const Answer& answer) {
    const CaveRow* cave = CaveIn(context, request);
    answer(cave ? Begin(*trials, *cave, request) : NoCave(request));
  });
  router.Get("/api/limits/trials/{trial}",
             [trials](const Request& request, const Answer& answer) { answer(Look(*trials, request)); });
}

}  // namespace rindwatch
