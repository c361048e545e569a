#include "daemon/book/kinds.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/judge_answer.hpp"
#include "daemon/book/judge_enter.hpp"
#include "daemon/book/judge_probe.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

// The wheels that an act names; all must be in the book.
void NameWheels(const Book& book, const object& body, JournalLine& line) {
  line.wheels = fields::Wheels(body, "wheels");
  if (line.wheels.empty())
    throw ActFault{"An act on wheels names at least one.", "wheels", "at least one wheel", "none", ""};
  for (const rules::WheelId id : line.wheels) {
    if (!book.Wheel(id)) {
      throw ActFault{fmt::format("There is no wheel {} in the book.", id), "wheels", "wheels of the book",
                     std::to_string(id), "Load the page anew; another phone may have taken it away."};
    }
  }
  line.cave = book.PlaceOf(*book.Wheel(line.wheels.front())).cave;
}

object JudgeCare(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  const auto done = fields::Kinds(body, "done"), skipped = fields::Kinds(body, "skipped");
  if (done.empty() && skipped.empty()) {
    throw ActFault{"A care says what was done or skipped.", "done", "at least one care", "none", ""};
  }
  const std::string reason = fields::TextOr(body, "reason", "");
  if (!skipped.empty() && reason.empty()) {
    throw ActFault{"A care that is skipped needs a reason.", "reason", "a reason such as \"rind wet\"", "none", ""};
  }
  for (const rules::CareKind kind : done) {
    if (std::ranges::find(skipped, kind) != skipped.end()) {
      throw ActFault{fmt::format("\"{}\" cannot be both done and skipped.", rules::ToText(kind)), "skipped",
                     "other cares than those done", std::string(rules::ToText(kind)), ""};
    }
  }
  return {};
}

object JudgeUndo(const Book& book, const object& body, JournalLine& line) {
  const std::string of = fields::Text(body, "of");
  if (!IsActId(of) || of == line.id) {
    throw ActFault{"An undo names the id of another act.", "of", "the id of another act", of, ""};
  }
  if (book.IsAlarmAct(of)) {
    throw ActFault{"That an alarm was taken cannot be undone: the bell has stopped.", "of", "another act", of, ""};
  }
  // An act that is not known yet may still be on its way: the undo holds even if it arrives first.
  const bool some = body.contains("wheels") && !body.at("wheels").is_null();
  line.wheels = some ? fields::Wheels(body, "wheels") : book.WheelsOf(of);
  if (some && line.wheels.empty()) {
    throw ActFault{"An undo for some wheels names at least one.", "wheels", "at least one wheel, or no such field",
                   "none", ""};
  }
  if (!line.wheels.empty()) {
    if (const WheelRow* wheel = book.Wheel(line.wheels.front())) line.cave = book.PlaceOf(*wheel).cave;
  }
  return {};
}

object JudgeAnswerOfWheels(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  return JudgeAnswer(book, body, line);
}

object JudgeMove(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  object given;
  GivePlace(book, fields::Object(body, "to"), "to", given);
  line.cave = given.at("cave").to_number<std::int64_t>();
  return given;
}

object JudgeGone(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  fields::Text(body, "how");
  return {};
}

object JudgeAlarm(const Book& book, const object& body, JournalLine& line) {
  const std::string alarm = fields::Text(body, "alarm");
  if (line.kind == "called") fields::Text(body, "what");
  if (line.kind == "aside") {
    const rules::Instant until = fields::At(body, "until");
    constexpr rules::Millis longest = std::chrono::hours{24};
    if (until <= line.at || until > line.at + longest) {
      throw ActFault{"An alarm is set aside until a time within the next 24 hours.", "until", "within 24 hours",
                     ToText(until), "Choose a nearer time."};
    }
  }
  const auto record = book.AlarmRecords().find(alarm);
  if (record != book.AlarmRecords().end()) line.cave = fields::MaybeWhole(record->second, "cave");
  return {};
}

void CheckLimit(const object& body, const char* name, double low, double high) {
  const object* span = fields::MaybeObject(body, name);
  if (!span) return;
  const auto from = fields::MaybeNumber(*span, "low"), to = fields::MaybeNumber(*span, "high");
  if (!from || !to || *from >= *to || *from < low || *to > high) {
    throw ActFault{
        fmt::format("The limits of {} run from a lower to a higher figure between {} and {}.", name, low, high), name,
        fmt::format("low below high, between {} and {}", low, high), json::serialize(*span), ""};
  }
}

// The cave that an act names must be in the book.
const CaveRow& NameCave(const Book& book, const object& body, JournalLine& line) {
  line.cave = fields::Whole(body, "cave");
  const CaveRow* cave = book.Cave(*line.cave);
  if (!cave) {
    throw ActFault{fmt::format("There is no cave {} in the book.", *line.cave), "cave", "a cave of the book",
                   std::to_string(*line.cave), ""};
  }
  return *cave;
}

object JudgeLimits(const Book& book, const object& body, JournalLine& line) {
  NameCave(book, body, line);
  CheckLimit(body, "temperature", -10, 40);
  CheckLimit(body, "humidity", 0, 100);
  return {};
}

object JudgeCave(const Book& book, const object& body, JournalLine& line) {
  const CaveRow& cave = NameCave(book, body, line);
  json::value inside = nullptr;
  if (cave.inside) inside = *cave.inside;
  return {
      {"caves",
       json::array{
           {{"id", cave.id}, {"kind", ToText(cave.kind)}, {"name", fields::Text(body, "name")}, {"inside", inside}}}}};
}

object JudgeNote(const Book& book, const object& body, JournalLine& line) {
  fields::Text(body, "text");
  if (body.contains("wheels") && !body.at("wheels").is_null()) NameWheels(book, body, line);
  if (const auto cave = fields::MaybeWhole(body, "cave"); cave && book.Cave(*cave)) line.cave = *cave;
  return {};
}

using Judge = object (*)(const Book&, const object&, JournalLine&);
struct Kind {
  std::string_view name;
  Judge judge;
};
constexpr Kind kKinds[] = {
    {"care", JudgeCare},   {"undo", JudgeUndo},     {"answer", JudgeAnswerOfWheels},
    {"enter", JudgeEnter}, {"probe", JudgeProbe},   {"move", JudgeMove},
    {"gone", JudgeGone},   {"take", JudgeAlarm},    {"called", JudgeAlarm},
    {"aside", JudgeAlarm}, {"cave", JudgeCave},     {"limits", JudgeLimits},
    {"note", JudgeNote},   {"unhang", JudgeUnhang},
};

}  // namespace

object JudgeKind(const Book& book, const object& body, JournalLine& line) {
  const auto kind = std::ranges::find(kKinds, line.kind, &Kind::name);
  if (kind == std::ranges::end(kKinds)) {
    throw ActFault{fmt::format("Nobody knows an act of the kind \"{}\".", line.kind), "kind", "a kind of act",
                   line.kind, "Load the page anew; it may be older or newer than the daemon."};
  }
  return kind->judge(book, body, line);
}

}  // namespace rindwatch
