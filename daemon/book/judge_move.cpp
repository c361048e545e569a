#include "daemon/book/judge_move.hpp"

#include <algorithm>
#include <map>

#include "daemon/book/beginning.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::StartKind;

namespace {

std::optional<CaveKind> KindAt(const Book& book, const WheelRow& wheel) {
  const Place place = book.PlaceOf(wheel);
  const CaveRow* cave = place.cave ? book.Cave(*place.cave) : nullptr;
  return cave ? std::optional(cave->kind) : std::nullopt;
}

// The kind of the cave that `given` names, which may be one that this act makes.
CaveKind KindGiven(const Book& book, const json::object& given) {
  const auto id = given.at("cave").to_number<rules::CaveId>();
  if (const CaveRow* cave = book.Cave(id)) return cave->kind;
  for (const json::value& made : given.at("caves").as_array()) {
    const json::object& row = made.as_object();
    if (row.at("id").to_number<rules::CaveId>() == id) return *CaveKindFrom(std::string(row.at("kind").as_string()));
  }
  return CaveKind::kRoom;
}

bool IsAsked(const rules::Schedule& schedule, StartKind start) {
  return std::ranges::any_of(schedule.questions, [&](const rules::Question& question) {
    return question.kind == rules::Question::Kind::kStart && question.start == start;
  });
}

// A box is what the plan means by one. Many a room is a cave, and some a place to dry on: that move is an answer only
// where the round asks already.
std::optional<StartKind> BegunByArrival(const Book& book, const WheelRow& wheel, CaveKind to, const JournalLine& line) {
  const auto& calendar = book.CalendarOf(book.PlaceOf(wheel).cave);
  const rules::Schedule schedule = rules::ScheduleAt(wheel.History(), calendar, line.at);
  const rules::Standing& standing = schedule.standing;
  if (!standing.plan || standing.part + 1 >= standing.plan->parts.size()) return std::nullopt;
  const StartKind start = standing.plan->parts[standing.part + 1].start;
  const auto from = KindAt(book, wheel);
  const bool into_box = start == StartKind::kEnteredBox && to == CaveKind::kBox && from != CaveKind::kBox;
  const bool off_counter = start == StartKind::kEnteredCave && to != CaveKind::kCounter && from == CaveKind::kCounter;
  return into_box || (off_counter && IsAsked(schedule, start)) ? std::optional(start) : std::nullopt;
}

void GiveArrivals(const Book& book, const JournalLine& line, json::object& given) {
  const CaveKind to = KindGiven(book, given);
  std::map<StartKind, json::array> arrived;
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    if (const auto start = BegunByArrival(book, wheel, to, line)) arrived[*start].push_back(id);
  }
  json::array begins;
  for (auto& [start, wheels] : arrived) {
    begins.push_back(Beginning(start, book.Home().DayOf(line.at), false, std::move(wheels)));
  }
  if (!begins.empty()) given["begins"] = std::move(begins);
}

}  // namespace

json::object JudgeMove(const Book& book, const json::object& body, JournalLine& line) {
  NameWheels(book, body, line);
  json::object given;
  GivePlace(book, fields::Object(body, "to"), "to", given);
  line.cave = given.at("cave").to_number<std::int64_t>();
  GiveDoorNumber(book, fields::Object(body, "to"), line, given);
  GiveArrivals(book, line, given);
  return given;
}

}  // namespace rindwatch
