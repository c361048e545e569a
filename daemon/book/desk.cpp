#include "daemon/book/desk.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/facts.hpp"
#include "daemon/book/kinds.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Instant;
using rules::Millis;

namespace {

// Slow sending never makes a late entry; only a keeper who names an earlier time does.
constexpr Millis kLateEntry{10 * 60'000};
// Two clocks of a phone and of this machine, read at the two ends of one sending.
constexpr Millis kClockSlack{2 * 60'000};

json::object ParseBody(std::string_view body) {
  boost::system::error_code error;
  const json::value value = json::parse(json::string_view(body.data(), body.size()), error);
  if (error || !value.is_object()) {
    throw ActFault{"An act is one JSON object.", "", "a JSON object", error ? error.message() : "another JSON value",
                   "Load the page anew and try again."};
  }
  return value.as_object();
}

// By our clock: what the phone says, moved by the difference of the two clocks at the sending.
Instant OurTime(Instant phone, std::optional<Instant> sent_at, Instant now) {
  return sent_at ? phone + (now - *sent_at) : phone;
}

JournalLine Envelope(const json::object& body, std::optional<Instant> sent_at, Instant now) {
  JournalLine line;
  line.id = fields::Text(body, "id");
  line.kind = fields::Text(body, "kind");
  line.keeper = fields::TextOr(body, "keeper", "");
  line.tapped_at = fields::At(body, "tapped_at");
  line.said_at = fields::MaybeAt(body, "said_at");
  line.sent_at = sent_at;
  line.received_at = now;
  if (line.said_at && *line.said_at > *line.tapped_at) {
    throw ActFault{"An act cannot be said to have been done after it was tapped.", "said_at",
                   "an earlier time than now", ToText(*line.said_at), "Choose an earlier time."};
  }
  line.at = OurTime(line.said_at.value_or(*line.tapped_at), sent_at, now);
  if (line.at > now + kClockSlack) {
    throw ActFault{fmt::format("The act lies in the future: {} by this machine's clock, which shows {}.",
                               ToText(line.at), ToText(now)),
                   "tapped_at", "now or earlier", ToText(line.at),
                   "Compare the phone's clock with this machine's, and set the wrong one."};
  }
  line.at = std::min(line.at, now);
  line.late_entry = line.said_at && *line.tapped_at - *line.said_at > kLateEntry;
  return line;
}

}  // namespace

std::string ActIdOf(std::string_view body) {
  std::string id = fields::Text(ParseBody(body), "id");
  if (!IsActId(id)) {
    throw ActFault{"The id of an act is 32 hexadecimal digits, lower case.", "id", "32 hexadecimal digits", id, ""};
  }
  return id;
}

std::variant<Judged, ActFault> JudgeAct(const Book& book, std::string_view text, std::optional<Instant> sent_at,
                                        Instant now, const Beside& beside) {
  try {
    ActIdOf(text);
    const json::object body = ParseBody(text);
    Judged judged{Envelope(body, sent_at, now), {}};
    JournalLine& line = judged.line;
    line.body = std::string(text);
    json::object given = JudgeKind(book, body, line, beside);
    given["known"] = ToMillis(std::min(OurTime(*line.tapped_at, sent_at, now), now));
    line.given = json::serialize(given);
    judged.facts = FactsOf(line);
    json::object answer{{"id", line.id}, {"at", ToMillis(line.at)}, {"late_entry", line.late_entry}};
    if (line.cave) answer["cave"] = *line.cave;
    if (line.kind == "enter") answer["wheels"] = json::value_from(line.wheels);
    if (given.contains("probe")) answer["probe"] = given.at("probe");
    line.answer = json::serialize(answer);
    return judged;
  } catch (const ActFault& fault) {
    return fault;
  }
}

std::vector<rules::WheelId> WheelsToAge(std::string_view text) {
  try {
    const json::object body = ParseBody(text);
    const std::string kind = fields::Text(body, "kind");
    if (kind != "vouch" && kind != "release") return {};
    return fields::Wheels(body, "wheels");
  } catch (const ActFault&) {
    return {};
  }
}

JournalLine OwnLine(std::string kind, std::string id, json::object body, Instant at) {
  JournalLine line;
  line.id = std::move(id);
  line.kind = std::move(kind);
  line.at = line.received_at = at;
  line.body = json::serialize(body);
  return line;
}

}  // namespace rindwatch
