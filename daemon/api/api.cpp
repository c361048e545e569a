#include "daemon/api/api.hpp"

#include <charconv>

#include "daemon/api/act_desk.hpp"
#include "daemon/api/ahead_views.hpp"
#include "daemon/api/alarm_views.hpp"
#include "daemon/api/book_views.hpp"
#include "daemon/api/description.hpp"
#include "daemon/api/health.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/limits_routes.hpp"
#include "daemon/api/notices_routes.hpp"
#include "daemon/api/qualifying_json.hpp"
#include "daemon/api/round_routes.hpp"
#include "daemon/api/views.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;
using web::Response;

namespace {

std::optional<std::int64_t> NumberFrom(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

std::optional<std::int64_t> IdIn(const Request& request, const char* name) { return NumberFrom(request.Name(name)); }

web::Handler Plain(const ApiContext& context, json::object (*view)(const ApiContext&)) {
  return [&context, view](const Request&, const Answer& answer) { answer(JsonResponse(view(context))); };
}

// An empty object means that what was asked for went away meanwhile.
JsonDone Sending(const Answer& answer) {
  return [answer](const json::object& object) {
    if (object.empty())
      return answer(web::Complain(404, {.what = "It is no longer in the book.", .action = "Go back and look again."}));
    answer(JsonResponse(object));
  };
}

Response NotInBook(const char* what, const Request& request) {
  return web::Complain(404, {.what = std::string("There is no such ") + what + " in the book.",
                             .expected = "the number of one that is there",
                             .found = request.path,
                             .action = "Go back and look again."});
}

}  // namespace

void AddApi(web::Router& router, const ApiContext& context, std::function<web::Server::Figures()> figures) {
  AddRoundRoutes(router, context);
  router.Get("/api/wheels",
             [&context](const Request&, const Answer& answer) { WheelsWithAgesJson(context, Sending(answer)); });
  router.Get("/api/gone", Plain(context, GoneJson));
  router.Get("/api/plans", Plain(context, PlansJson));
  router.Get("/api/arriving", Plain(context, ArrivingJson));
  AddAheadRoutes(router, context);
  AddBookRoutes(router, context);
  AddAlarmRoutes(router, context);
  AddLimitsRoutes(router, context);
  AddNoticesRoutes(router, context);
  router.Get("/api/caves", [&context](const Request&, const Answer& answer) { CavesJson(context, Sending(answer)); });
  router.Get("/api/caves/{cave}", [&context](const Request& request, const Answer& answer) {
    const auto id = IdIn(request, "cave");
    const CaveRow* cave = id ? context.book().Cave(*id) : nullptr;
    if (!cave) return answer(NotInBook("cave", request));
    CavePageJson(context, *cave, Sending(answer));
  });
  router.Get("/api/wheels/{wheel}", [&context](const Request& request, const Answer& answer) {
    const auto id = IdIn(request, "wheel");
    const WheelRow* wheel = id ? context.book().Wheel(*id) : nullptr;
    if (!wheel) return answer(NotInBook("wheel", request));
    WheelPageJson(context, *wheel, Sending(answer));
  });
  router.Get("/api/journal", [&context](const Request& request, const Answer& answer) {
    const auto before = request.query.find("before");
    const auto position = before == request.query.end() ? std::optional<std::int64_t>(0) : NumberFrom(before->second);
    if (!position || *position < 0) {
      return answer(web::Complain(400, {.what = "\"before\" names the position of a line.",
                                        .expected = "a whole number",
                                        .found = before->second,
                                        .field = "before"}));
    }
    JournalJson(context, *position, Sending(answer));
  });
  router.Post("/api/acts", [desk = std::make_shared<ActDesk>(context)](const Request& request, const Answer& answer) {
    desk->Take(request, answer);
  });
  router.Get("/health", [&context](const Request&, const Answer& answer) {
    const json::object health = HealthJson(context);
    answer(JsonResponse(health, health.at("watching").as_bool() ? 200 : 503));
  });
  router.Get("/metrics", [&context, figures = std::move(figures)](const Request&, const Answer& answer) {
    Response response;
    response.content_type = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    response.body = MetricsText(context, figures());
    answer(response);
  });
  router.Get("/openapi.yaml", [](const Request&, const Answer& answer) {
    Response response;
    response.content_type = "application/yaml";
    response.body = ApiDescription();
    answer(response);
  });
}

}  // namespace rindwatch
