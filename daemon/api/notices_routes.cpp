#include "daemon/api/notices_routes.hpp"

#include <algorithm>
#include <boost/url/parse.hpp>
#include <charconv>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/broker/broker_side.hpp"
#include "daemon/notices/letter.hpp"
#include "daemon/notices/notices.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;

namespace {

constexpr std::size_t kPage = 50;

std::optional<std::int64_t> NumberFrom(std::string_view text) {
  std::int64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size() || number < 0) return std::nullopt;
  return number;
}

std::string HostOf(const std::string& url) {
  const auto parts = boost::urls::parse_uri(url);
  return parts ? std::string(parts->host()) : url;
}

json::object RowJson(const NoticeRow& row) {
  json::object object{{"number", row.number}, {"at", ToMillis(row.made_at)}, {"hearer", row.hearer},
                      {"way", row.way},       {"address", row.address},      {"kind", row.kind},
                      {"state", row.state},   {"tries", row.tries}};
  SetAt(object, "next_at", row.next_at);
  SetAt(object, "done_at", row.done_at);
  if (row.within > 0) object["within"] = row.within;
  if (!row.why.empty()) object["why"] = row.why;
  if (!row.alarm.empty()) object["alarm"] = row.alarm;
  return object;
}

json::object LogJson(const NoticeRow& row) {
  json::object object = RowJson(row);
  object["subject"] = LetterFrom(row.letter).subject;
  return object;
}

// Passwords, and addresses that hold secrets, stay in the house.
json::object WaysJson(const ApiContext& context) {
  const NoticesConfig& config = context.config.notices;
  json::object ways;
  if (!config.mail.server.empty()) ways["mail"] = {{"server", config.mail.server}, {"from", config.mail.from}};
  json::array webhooks;
  for (const Webhook& webhook : config.webhooks)
    webhooks.push_back({{"name", webhook.name}, {"host", HostOf(webhook.url)}});
  ways["webhooks"] = std::move(webhooks);
  // Where no broker is a bell has nothing to hang on.
  const bool broker = context.config.broker_given || (context.broker != nullptr && context.broker->IsConnected());
  if (broker || !context.book().Probes().empty()) ways["bell"] = context.config.broker_prefix + "/bell";
  ways["page"] = context.notices ? context.notices->Page() : "";
  if (!config.ping.url.empty()) ways["ping"] = {{"host", HostOf(config.ping.url)}, {"minutes", config.ping.minutes}};
  return ways;
}

json::object NoticesJson(const ApiContext& context, const std::vector<NoticeRow>& rows) {
  json::array hearers, log;
  for (const Hearing& hearing : context.book().Hearings()) hearers.push_back(ToJson(hearing));
  for (const NoticeRow& row : rows) log.push_back(LogJson(row));
  return {{"head", HeadJson(context)}, {"sends", context.notices != nullptr && context.notices->Sends()},
          {"ways", WaysJson(context)}, {"hearers", std::move(hearers)},
          {"log", std::move(log)},     {"more", rows.size() == kPage}};
}

void Tell(const ApiContext& context, const Request& request, const Answer& answer) {
  const std::string_view text = request.Query("before");
  const auto before = text.empty() ? std::optional<std::int64_t>(0) : NumberFrom(text);
  if (!before) {
    return answer(web::Complain(400, {.what = "\"before\" is the number of a notice.",
                                      .expected = "a whole number",
                                      .found = std::string(text),
                                      .field = "before"}));
  }
  context.store.NoticePage(*before, kPage, [&context, answer](const std::vector<NoticeRow>& rows) {
    answer(JsonResponse(NoticesJson(context, rows)));
  });
}

void TellOne(const ApiContext& context, const Request& request, const Answer& answer) {
  const auto number = NumberFrom(request.Name("number"));
  const std::int64_t before = number && *number < INT64_MAX ? *number + 1 : 1;
  context.store.NoticePage(before, 1, [&context, number, answer](const std::vector<NoticeRow>& rows) {
    if (rows.empty() || !number || rows.front().number != *number) {
      return answer(web::Complain(404, {.what = "There is no such notice.", .action = "Go back and look again."}));
    }
    json::object object = LogJson(rows.front());
    object["head"] = HeadJson(context);
    const Letter letter = LetterFrom(rows.front().letter);
    object["text"] = PlainText(letter);
    object["narrow"] = PhoneText(letter);
    answer(JsonResponse(object));
  });
}

// Only where a keeper hears: nobody else's box is filled from here.
bool IsHeardBy(const ApiContext& context, const std::string& way, const std::string& address) {
  return std::ranges::any_of(context.book().Hearings(), [&](const Hearing& hearing) {
    const auto& addresses = way == "mail" ? hearing.mail : hearing.webhooks;
    return std::ranges::find(addresses, address) != addresses.end();
  });
}

void Test(const ApiContext& context, const Request& request, const Answer& answer) {
  try {
    boost::system::error_code error;
    const json::value body = json::parse(request.body, error);
    if (error || !body.is_object()) throw ActFault{"A test names a way and an address.", "", "a JSON object", "", ""};
    const std::string way = fields::Text(body.as_object(), "way");
    const std::string address = fields::Text(body.as_object(), "address");
    if ((way != "mail" && way != "webhook") || !IsHeardBy(context, way, address)) {
      throw ActFault{"A test goes to an address by which a keeper hears.", "address", "one that is kept", address,
                     "Keep it first."};
    }
    if (!context.notices) throw ActFault{"The watch does not run.", "", "", "", "Start it."};
    context.notices->Test(way, address, [answer](const Outcome& outcome) {
      using enum Outcome::Kind;
      const char* word = outcome.kind == kSent ? "sent" : outcome.kind == kDoubtful ? "doubtful" : "not sent";
      answer(JsonResponse(json::object{{"outcome", word}, {"what", outcome.what}}));
    });
  } catch (const ActFault& fault) {
    answer(web::Complain(422, {.what = fault.what,
                               .expected = fault.expected,
                               .found = fault.found,
                               .action = fault.todo,
                               .field = fault.field}));
  }
}

}  // namespace

void AddNoticesRoutes(web::Router& router, const ApiContext& context) {
  router.Get("/api/notices",
             [&context](const Request& request, const Answer& answer) { Tell(context, request, answer); });
  router.Get("/api/notices/{number}",
             [&context](const Request& request, const Answer& answer) { TellOne(context, request, answer); });
  router.Post("/api/notices/test",
              [&context](const Request& request, const Answer& answer) { Test(context, request, answer); });
}

}  // namespace rindwatch
