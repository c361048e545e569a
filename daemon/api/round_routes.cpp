#include "daemon/api/round_routes.hpp"

#include "daemon/api/json.hpp"
#include "daemon/api/round_query.hpp"
#include "daemon/feed/rounds.hpp"
#include "daemon/morning/list.hpp"
#include "daemon/morning/text.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

using web::Answer;
using web::Request;
using web::Response;

namespace {

rules::Date DayOfNow(const ApiContext& context) { return context.book().Home().DayOf(context.now()); }

Response PlainText(const char* type, std::string body) {
  Response response;
  response.content_type = type;
  response.body = std::move(body);
  return response;
}

// A calendar that a program of the keeper's asks for again and again.
Response CalendarResponse(const ApiContext& context, int days) {
  Response response = PlainText("text/calendar; charset=utf-8", feed::Write(feed::RoundsOf(context, days)));
  response.headers["content-disposition"] = "inline; filename=\"rounds.ics\"";
  return response;
}

Response NoCalendar() {
  return web::Complain(404, {.what = "There is no calendar at this address, or no longer.",
                             .action = "The settings show the address that opens it."});
}

}  // namespace

void AddRoundRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/round", [&context](const Request& request, const Answer& answer) {
    AnswerRoundAsk(request, answer, DayOfNow(context),
                   [&](const RoundAsk& ask) { return JsonResponse(RoundJson(context, ask)); });
  });
  router.Get("/api/round/text", [&context](const Request& request, const Answer& answer) {
    AnswerRoundAsk(request, answer, DayOfNow(context), [&](const RoundAsk& ask) {
      return PlainText("text/plain; charset=utf-8", morning::Text(context.words, morning::ListOf(context, ask)));
    });
  });
  router.Get("/api/round/calendar", [&context](const Request& request, const Answer& answer) {
    AnswerDaysAsk(request, answer, [&](int days) { return CalendarResponse(context, days); });
  });
  // The address is the key: a calendar program sends neither name nor password.
  router.Get("/calendar/{file}", [&context](const Request& request, const Answer& answer) {
    const std::string secret = context.book().FeedSecret();
    if (secret.empty() || request.Name("file") != secret + ".ics") return answer(NoCalendar());
    answer(CalendarResponse(context, feed::kUsualDays));
  });
}

}  // namespace rindwatch
