#include "daemon/book/kinds.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/hearing.hpp"
#include "daemon/book/judge_answer.hpp"
#include "daemon/book/judge_away.hpp"
#include "daemon/book/judge_care.hpp"
#include "daemon/book/judge_enter.hpp"
#include "daemon/book/judge_fault.hpp"
#include "daemon/book/judge_house.hpp"
#include "daemon/book/judge_law.hpp"
#include "daemon/book/judge_move.hpp"
#include "daemon/book/judge_plan.hpp"
#include "daemon/book/judge_probe.hpp"
#include "daemon/book/judge_watching.hpp"
#include "daemon/book/judge_wheels.hpp"
#include "daemon/book/known_fields.hpp"
#include "daemon/book/naming.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

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

// "Decide later", "not yet": asked again on the next day.
object JudgeLater(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  fields::Text(body, "question");
  fields::TextOr(body, "start", "");
  return {};
}

object JudgeGone(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  fields::Text(body, "how");
  return {};
}

object JudgeAlarm(const Book& book, const object& body, JournalLine& line) {
  const std::string alarm = fields::Text(body, "alarm");
  if (line.kind == "called") {
    fields::Text(body, "what");
    fields::TextOr(body, "remark", "");
  }
  if (line.kind == "aside") {
    const rules::Instant until = fields::At(body, "until");
    constexpr rules::Millis kLongest = std::chrono::hours{24};
    if (until <= line.at || until > line.at + kLongest) {
      throw ActFault{"An alarm is set aside until a time within the next 24 hours.", "until", "within 24 hours",
                     ToText(until), "Choose a nearer time."};
    }
  }
  const auto record = book.AlarmRecords().find(alarm);
  if (record == book.AlarmRecords().end()) return {};
  line.cave = fields::MaybeWhole(record->second, "cave");
  const Book::Taking* const taking = book.TakenBy(alarm);
  if (line.kind == "aside" && taking && !taking->asks_again) {
    throw ActFault{"What is taken rings no more, and is not set aside.", "alarm", "an alarm that nobody took", alarm,
                   "Nothing has to be done; if it gets worse it asks again."};
  }
  return {};
}

object JudgeLimits(const Book& book, const object& body, JournalLine& line) {
  NameCave(book, body, line);
  CheckSpan(body, "temperature", -10, 40);
  CheckSpan(body, "humidity", 0, 100);
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

// "I am here" and "I am out": the watch is quiet for a while in this cave; nothing else follows.
object JudgePresence(const Book& book, const object& body, JournalLine& line) {
  NameCave(book, body, line);
  return {};
}

object JudgeNote(const Book& book, const object& body, JournalLine& line) {
  fields::Text(body, "text");
  if (body.contains("wheels") && !body.at("wheels").is_null()) NameWheels(book, body, line);
  if (const auto cave = fields::MaybeWhole(body, "cave"); cave && book.Cave(*cave)) line.cave = *cave;
  return {};
}

// A judge that needs nothing beside the book.
template <object (*judge)(const Book&, const object&, JournalLine&)>
object Plain(const Book& book, const object& body, JournalLine& line, const Beside&) {
  return judge(book, body, line);
}

struct Kind {
  std::string_view name;
  object (*judge)(const Book&, const object&, JournalLine&, const Beside&);
};
constexpr Kind kKinds[] = {
    {"care", Plain<JudgeCare>},         {"undo", Plain<JudgeUndo>},       {"answer", Plain<JudgeAnswerOfWheels>},
    {"later", Plain<JudgeLater>},       {"enter", Plain<JudgeEnter>},     {"probe", Plain<JudgeProbe>},
    {"unhang", Plain<JudgeUnhang>},     {"service", Plain<JudgeService>}, {"move", Plain<JudgeMove>},
    {"gone", Plain<JudgeGone>},         {"take", Plain<JudgeAlarm>},      {"called", Plain<JudgeAlarm>},
    {"aside", Plain<JudgeAlarm>},       {"here", Plain<JudgePresence>},   {"out", Plain<JudgePresence>},
    {"cave", Plain<JudgeCave>},         {"limits", Plain<JudgeLimits>},   {"watching", Plain<JudgeWatching>},
    {"note", Plain<JudgeNote>},         {"hold", Plain<JudgeHold>},       {"cut", Plain<JudgeCut>},
    {"split", Plain<JudgeSplit>},       {"band", Plain<JudgeBand>},       {"order", Plain<JudgeOrder>},
    {"calendar", Plain<JudgeCalendar>}, {"away", Plain<JudgeAway>},       {"past", Plain<JudgePast>},
    {"share", Plain<JudgeShare>},       {"keeper", Plain<JudgeKeeper>},   {"feed", JudgeFeed},
    {"hearing", Plain<JudgeHearing>},   {"plan", Plain<JudgePlan>},       {"plan text", Plain<JudgePlanText>},
    {"fault", Plain<JudgeFault>},       {"rule", Plain<JudgeRule>},       {"vouch", JudgeVouch},
    {"release", JudgeRelease},
};

}  // namespace

object JudgeKind(const Book& book, const object& body, JournalLine& line, const Beside& beside) {
  const auto kind = std::ranges::find(kKinds, line.kind, &Kind::name);
  if (kind == std::ranges::end(kKinds)) {
    throw ActFault{fmt::format("Nobody knows an act of the kind \"{}\".", line.kind), "kind", "a kind of act",
                   line.kind, "Load the page anew; it may be older or newer than the daemon."};
  }
  CheckFieldsOfAct(body, line.kind);
  return kind->judge(book, body, line, beside);
}

}  // namespace rindwatch
