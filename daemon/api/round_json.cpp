#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/json.hpp"
#include "daemon/api/views.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareLine;

namespace {

// The page keeps the element of a line as long as its key stays.
std::string KeyOf(const RoundLine& line) {
  const auto kinds = json::serialize(KindsJson(line.care.kinds));
  return fmt::format("{}-{}-{}", line.wheels.front()->id, kinds, line.care.evening ? "e" : "");
}

json::array WheelIds(const std::vector<const WheelRow*>& wheels) {
  json::array ids;
  for (const WheelRow* wheel : wheels) ids.push_back(wheel->id);
  return ids;
}

json::object LineOf(const ApiContext& context, const RoundLine& line) {
  const Book& book = context.book();
  const CareLine& care = line.care;
  const WheelRow& first = *line.wheels.front();
  json::object object{{"key", KeyOf(line)},
                      {"rind", rules::ToText(line.standing.plan->rind)},
                      {"cave", line.cave ? line.cave->id : 0},
                      {"cave_name", line.cave ? line.cave->name : std::string{}},
                      {"place", PlaceName(line.cave, line.shelf)},
                      {"wheels", WheelIds(line.wheels)},
                      {"lot", LotName(book, first)},
                      {"family", ShortFamily(*line.standing.plan)},
                      {"day", line.standing.day},
                      {"age", line.standing.age},
                      {"stage", line.standing.stage ? line.standing.stage->name : std::string{}},
                      {"wheel_state", StateWord(line.standing)},
                      {"kinds", KindsJson(care.kinds)},
                      {"done_kinds", KindsJson(care.done_kinds)},
                      {"skipped_kinds", KindsJson(care.skipped_kinds)},
                      {"state", rules::ToText(care.state)},
                      {"due", DayJson(care.due)},
                      {"away", care.away},
                      {"evening", care.evening},
                      {"note", care.care ? care.care->note : std::string{}},
                      {"past_plan", line.standing.past_plan}};
  if (care.late_since) object["late_since"] = DayJson(*care.late_since);
  SetAt(object, "settled_at", care.settled_at);
  // What came with the entry is no act that could be undone by itself.
  if (IsActId(care.settled_by)) object["settled_by"] = care.settled_by;
  if (!care.reason.empty()) object["reason"] = care.reason;
  for (const JournalLine& journal : book.Newest()) {
    if (journal.id == care.settled_by && !journal.keeper.empty()) object["keeper"] = journal.keeper;
  }
  return object;
}

// What may be done today although it is due later; lot and family are empty where its wheels do not share them.
json::object OpenOf(const Book& book, const RoundAhead& ahead) {
  const WheelRow& first = *ahead.wheels.front();
  json::object object{{"place", PlaceName(ahead.cave, ahead.shelf)},
                      {"kinds", KindsJson(ahead.kinds)},
                      {"due", DayJson(ahead.day)},
                      {"cave", ahead.cave ? ahead.cave->id : 0},
                      {"wheels", WheelIds(ahead.wheels)}};
  const auto family = [](const WheelRow& wheel) { return ShortFamily(*wheel.history.plans.back().plan); };
  const bool one_lot =
      std::ranges::all_of(ahead.wheels, [&](const WheelRow* wheel) { return wheel->lot == first.lot; });
  const bool one_family =
      std::ranges::all_of(ahead.wheels, [&](const WheelRow* wheel) { return family(*wheel) == family(first); });
  object["lot"] = one_lot ? LotName(book, first) : std::string{};
  object["family"] = one_family ? family(first) : std::string{};
  return object;
}

bool IsPlaceFor(rules::StartKind start, CaveKind kind) {
  if (start == rules::StartKind::kEnteredBox)
    return kind == CaveKind::kBox || kind == CaveKind::kFridge || kind == CaveKind::kRoom;
  return start == rules::StartKind::kEnteredCave && kind != CaveKind::kCounter;
}

json::object QuestionOf(const ApiContext& context, const RoundQuestion& line) {
  const Book& book = context.book();
  const rules::Question& question = line.question;
  json::object object{{"key", fmt::format("{}-{}", line.wheels.front()->id, question.text)},
                      {"cave", line.cave ? line.cave->id : 0},
                      {"place", PlaceName(line.cave, line.shelf)},
                      {"wheels", WheelIds(line.wheels)},
                      {"lot", LotName(book, *line.wheels.front())},
                      {"family", ShortFamily(*line.standing.plan)},
                      {"day", line.standing.day},
                      {"wheel_state", StateWord(line.standing)},
                      {"kind", question.kind == rules::Question::Kind::kStart ? "start" : "branch"},
                      {"text", question.text}};
  if (question.kind == rules::Question::Kind::kBranch) {
    json::array options;
    for (const std::string& option : question.options) options.push_back(json::string(option));
    object["options"] = std::move(options);
    return object;
  }
  object["start"] = rules::ToText(question.start);
  json::array where;
  for (const CaveRow* cave : book.Caves()) {
    if (IsPlaceFor(question.start, cave->kind)) where.push_back({{"cave", cave->id}, {"cave_name", cave->name}});
  }
  if (!where.empty()) object["where"] = std::move(where);
  return object;
}

}  // namespace

json::object RoundJson(const ApiContext& context) {
  const Round& round = context.watch.TodaysRound();
  json::array lines, questions, open;
  for (const RoundLine& line : round.lines) lines.push_back(LineOf(context, line));
  for (const RoundQuestion& question : round.questions) questions.push_back(QuestionOf(context, question));
  for (const RoundAhead& ahead : round.open) open.push_back(OpenOf(context.book(), ahead));
  json::object object{{"head", HeadJson(context)},
                      {"lines", std::move(lines)},
                      {"questions", std::move(questions)},
                      {"open", std::move(open)}};
  if (!round.next.empty()) {
    json::array next;
    for (const RoundAhead& ahead : round.next) {
      next.push_back({{"place", PlaceName(ahead.cave, ahead.shelf)},
                      {"kinds", KindsJson(ahead.kinds)},
                      {"count", ahead.wheels.size()}});
    }
    json::object ahead{{"day", DayJson(round.next.front().day)}, {"lines", std::move(next)}};
    SetAt(ahead, "from", round.next.front().from);
    object["next"] = std::move(ahead);
  }
  return object;
}

}  // namespace rindwatch
