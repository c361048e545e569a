#include <charconv>

#include "daemon/api/api.hpp"
#include "daemon/api/json.hpp"
#include "daemon/book/desk.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;

namespace {

web::Response FaultResponse(const ActFault& fault) {
  return web::Complain(422, {.what = fault.what,
                             .expected = fault.expected,
                             .found = fault.found,
                             .action = fault.todo,
                             .field = fault.field});
}

web::Response ConflictResponse(const std::string& id) {
  return web::Complain(409, {.what = "This act was taken before, with other words; the first stays.",
                             .expected = "the same act again",
                             .found = id,
                             .action = "Correct it with an act of its own."});
}

// The phone's clock at this sending.
std::optional<rules::Instant> SentAt(const Request& request) {
  const auto header = request.headers.find("sent-at");
  if (header == request.headers.end()) return std::nullopt;
  std::int64_t millis = 0;
  const std::string& text = header->second;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), millis);
  if (error != std::errc{} || end != text.data() + text.size() || millis < 0 || millis > 10'000'000'000'000) {
    throw ActFault{"The header Sent-At holds the phone's clock in milliseconds since 1970.", "Sent-At",
                   "milliseconds since 1970", text, ""};
  }
  return rules::FromMillis(millis);
}

std::string AnswerWithPosition(const std::string& answer, std::int64_t position) {
  json::object object = json::parse(answer).as_object();
  object["position"] = position;
  return json::serialize(object);
}

void Append(const ApiContext& context, Judged judged, const Answer& answer) {
  const std::string id = judged.line.id, first = judged.line.answer;
  context.store.Append(
      std::move(judged.line), std::move(judged.facts), [id, first, answer](const AppendResult& result) {
        using Kind = AppendResult::Kind;
        switch (result.kind) {
          case Kind::kWritten:
          case Kind::kKnown: {
            web::Response response;
            response.body = AnswerWithPosition(result.kind == Kind::kKnown ? result.answer : first, result.position);
            return answer(response);
          }
          case Kind::kConflict:
            return answer(ConflictResponse(id));
          case Kind::kRefused:
            return answer(web::Complain(503, {.what = "The act could not be written: " + result.why,
                                              .action = "Keep it and send it again; nothing is lost."}));
        }
      });
}

}  // namespace

void TakeAct(const ApiContext& context, const Request& request, const Answer& answer) {
  try {
    const auto sent_at = SentAt(request);
    const std::string id = ActIdOf(request.body);
    // A repeat is answered before anything is judged anew: what was right when it first came may not be now.
    context.store.Find(id, [&context, body = request.body, sent_at, answer](const std::optional<JournalLine>& known) {
      if (known && known->body != body) return answer(ConflictResponse(known->id));
      if (known) {
        web::Response response;
        response.body = AnswerWithPosition(known->answer, known->position);
        return answer(response);
      }
      auto judged = JudgeAct(context.book(), body, sent_at, context.now());
      if (const auto* fault = std::get_if<ActFault>(&judged)) return answer(FaultResponse(*fault));
      Append(context, std::move(std::get<Judged>(judged)), answer);
    });
  } catch (const ActFault& fault) {
    answer(FaultResponse(fault));
  }
}

}  // namespace rindwatch
