#include "daemon/api/act_desk.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>
#include <boost/json.hpp>
#include <charconv>
#include <exception>
#include <random>

#include "daemon/api/qualifying_age.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/book/desk.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace json = boost::json;
using web::Answer;
using web::Request;
using web::Response;

namespace {

Response FaultResponse(const ActFault& fault) {
  return web::Complain(422, {.what = fault.what,
                             .expected = fault.expected,
                             .found = fault.found,
                             .action = fault.todo,
                             .field = fault.field});
}

Response ConflictResponse(const std::string& id) {
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

// The system's own source of chance: the address of a calendar must not be guessed.
std::string FreshSecret() {
  std::random_device chance;
  std::string secret;
  for (int part = 0; part < 4; ++part) secret += fmt::format("{:08x}", static_cast<std::uint32_t>(chance()));
  return secret;
}

Response AnswerWithPosition(const std::string& answer, std::int64_t position) {
  json::object object = json::parse(answer).as_object();
  object["position"] = position;
  Response response;
  response.body = json::serialize(object);
  return response;
}

Response BrokenResponse(const std::exception& broken) {
  spdlog::error("An act could not be judged: {}", broken.what());
  return web::Complain(500, {.what = "The act could not be taken because of a fault in the program.",
                             .found = broken.what(),
                             .action = "Keep it, and report it with the lines of the log."});
}

Response ResponseTo(const AppendResult& result, const std::string& id, const std::string& first) {
  switch (result.kind) {
    case AppendResult::Kind::kWritten:
      return AnswerWithPosition(first, result.position);
    case AppendResult::Kind::kKnown:
      return AnswerWithPosition(result.answer, result.position);
    case AppendResult::Kind::kConflict:
      return ConflictResponse(id);
    case AppendResult::Kind::kRefused:
      break;
  }
  return web::Complain(503, {.what = "The act could not be written: " + result.why,
                             .action = "Keep it and send it again; nothing is lost."});
}

}  // namespace

void ActDesk::Take(const Request& request, const Answer& answer) {
  try {
    const auto sent_at = SentAt(request);
    waiting_.push_back({ActIdOf(request.body), request.body, sent_at, answer});
  } catch (const ActFault& fault) {
    return answer(FaultResponse(fault));
  }
  Next();
}

// A repeat is answered before anything is judged anew: what was right when it first came may not be now.
void ActDesk::Next() {
  if (busy_ || waiting_.empty()) return;
  busy_ = true;
  const Act act = std::move(waiting_.front());
  waiting_.pop_front();
  context_.store.Find(act.id, [self = shared_from_this(), act](const std::optional<JournalLine>& known) {
    if (!known) return self->Judge(act);
    self->Finish(act, known->body == act.body ? AnswerWithPosition(known->answer, known->position)
                                              : ConflictResponse(known->id));
  });
}

void ActDesk::Judge(const Act& act) {
  // An act of now would stand in the journal under a wrong time for ever.
  if (context_.broker && !context_.broker->IsClockKnown()) {
    return Finish(act, web::Complain(503, {.what = ClockTrouble(context_),
                                           .action = "Keep it and send it again; nothing is lost."}));
  }
  // Whether a wheel may be let go is told by what was recorded around it.
  AgesOf(context_, WheelsToAge(act.body), [self = shared_from_this(), act](QualifyingAges ages) {
    self->JudgeWith(act, {FreshSecret(), std::move(ages)});
  });
}

void ActDesk::JudgeWith(const Act& act, const Beside& beside) {
  try {
    auto judged = JudgeAct(context_.book(), act.body, act.sent_at, context_.now(), beside);
    if (const auto* fault = std::get_if<ActFault>(&judged)) return Finish(act, FaultResponse(*fault));
    auto& [line, facts] = std::get<Judged>(judged);
    const std::string first = line.answer;
    context_.store.Append(std::move(line), std::move(facts),
                          [self = shared_from_this(), act, first](const AppendResult& result) {
                            self->Finish(act, ResponseTo(result, act.id, first));
                          });
  } catch (const std::exception& broken) {
    Finish(act, BrokenResponse(broken));
  }
}

void ActDesk::Finish(const Act& act, Response response) {
  busy_ = false;
  act.answer(std::move(response));
  Next();
}

}  // namespace rindwatch
