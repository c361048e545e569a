#include <charconv>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/law.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

using rules::Date;
using std::chrono::days;
using web::Answer;
using web::Complaint;
using web::Request;

namespace {

// Why a question cannot be answered; the handlers turn it into a 400.
struct BadQuestion {
  Complaint complaint;
};

std::optional<std::int64_t> WholeNumber(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

Date DayIn(const Request& request, const char* name) {
  const auto day = DayFrom(request.Query(name));
  if (day) return *day;
  throw BadQuestion{{.what = std::string("\"") + name + "\" names a day.",
                     .expected = "a day as 2026-11-25",
                     .found = std::string(request.Query(name)),
                     .field = name}};
}

std::vector<rules::CaveId> CavesIn(const Request& request, const Book& book) {
  std::vector<rules::CaveId> caves;
  std::string_view left = request.Query("caves");
  while (!left.empty()) {
    const std::string_view one = left.substr(0, left.find(','));
    left.remove_prefix(std::min(left.size(), one.size() + 1));
    const auto id = WholeNumber(one);
    if (!id || !book.Cave(*id)) {
      throw BadQuestion{{.what = "There is no such cave in the book.",
                         .expected = "numbers of caves, with commas between them",
                         .found = std::string(one),
                         .field = "caves"}};
    }
    caves.push_back(*id);
  }
  return caves;
}

AwayQuestion AwayIn(const Request& request, const Book& book) {
  AwayQuestion question{DayIn(request, "from"), DayIn(request, "back"), CavesIn(request, book)};
  const auto length = (question.back - question.from).count();
  if (length >= 1 && length <= kLongestAbsence) return question;
  throw BadQuestion{{.what = "\"back\" is the first day there again.",
                     .expected = "a day after \"from\", at most " + std::to_string(kLongestAbsence) + " days later",
                     .found = std::string(request.Query("back")),
                     .field = "back"}};
}

AheadQuestion AheadIn(const Request& request) {
  AheadQuestion question;
  if (request.query.contains("weeks")) {
    const auto weeks = WholeNumber(request.Query("weeks"));
    if (!weeks || *weeks < 1 || *weeks > kMostWeeks) {
      throw BadQuestion{{.what = "\"weeks\" says how far to look.",
                         .expected = "a whole number from 1 to " + std::to_string(kMostWeeks),
                         .found = std::string(request.Query("weeks")),
                         .field = "weeks"}};
    }
    question.weeks = static_cast<int>(*weeks);
  }
  if (request.query.contains("wanted")) question.wanted = DayIn(request, "wanted");
  return question;
}

rules::QualifyingRule RuleIn(const Request& request) {
  const std::string text(request.Query("rule"));
  boost::system::error_code error;
  const boost::json::value rule = boost::json::parse(text, error);
  try {
    if (!error && rule.is_object()) return RuleFrom(rule.as_object());
  } catch (const ActFault& fault) {
    throw BadQuestion{{.what = fault.what, .expected = fault.expected, .found = fault.found, .field = "rule"}};
  }
  throw BadQuestion{{.what = "\"rule\" is a rule of qualifying age.",
                     .expected = "an object as in the act \"rule\"",
                     .found = text,
                     .field = "rule"}};
}

FitQuestion FitIn(const Request& request, const ApiContext& context) {
  FitQuestion question;
  for (const auto& plan : context.book().Offered()) {
    if (plan->id == request.Query("plan")) question.plan = plan;
  }
  if (!question.plan) {
    throw BadQuestion{{.what = "There is no such plan.",
                       .expected = "the id of a plan",
                       .found = std::string(request.Query("plan")),
                       .field = "plan"}};
  }
  const auto cave = WholeNumber(request.Query("cave"));
  question.cave = cave ? context.book().Cave(*cave) : nullptr;
  if (request.query.contains("cave") && question.cave == nullptr) {
    throw BadQuestion{{.what = "There is no such cave in the book.",
                       .expected = "the number of one that is there",
                       .found = std::string(request.Query("cave")),
                       .field = "cave"}};
  }
  question.made = request.query.contains("made") ? DayIn(request, "made") : context.book().Home().DayOf(context.now());
  if (request.query.contains("rule")) question.rule = RuleIn(request);
  return question;
}

// A handler whose question may be a bad one.
template <typename Ask>
web::Handler Asking(Ask ask) {
  return [ask](const Request& request, const Answer& answer) {
    try {
      ask(request, answer);
    } catch (const BadQuestion& bad) {
      answer(web::Complain(400, bad.complaint));
    }
  };
}

}  // namespace

void AddAheadRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/faults",
             [&context](const Request&, const Answer& answer) { answer(JsonResponse(FaultsJson(context))); });
  router.Get("/api/away", Asking([&context](const Request& request, const Answer& answer) {
               answer(JsonResponse(AwayJson(context, AwayIn(request, context.book()))));
             }));
  router.Get("/api/returned", Asking([&context](const Request& request, const Answer& answer) {
               ReturnedJson(context, AwayIn(request, context.book()),
                            [answer](const boost::json::object& object) { answer(JsonResponse(object)); });
             }));
  router.Get("/api/ahead", Asking([&context](const Request& request, const Answer& answer) {
               answer(JsonResponse(AheadJson(context, AheadIn(request))));
             }));
  router.Get("/api/fit", Asking([&context](const Request& request, const Answer& answer) {
               answer(JsonResponse(FitJson(context, FitIn(request, context))));
             }));
}

}  // namespace rindwatch
