#include "daemon/book/judge_move.hpp"

#include <algorithm>
#include <map>

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

bool IsArrival(StartKind start, std::optional<CaveKind> from, CaveKind to) {
  const auto ripens = [](std::optional<CaveKind> kind) { return kind && *kind != CaveKind::kCounter; };
  if (start == StartKind::kEnteredBox) return to == CaveKind::kBox && from != CaveKind::kBox;
  return start == StartKind::kEnteredCave && ripens(to) && !ripens(from);
}

// The start that the wheel waits for, if the plan has a part still to begin.
std::optional<StartKind> AwaitedStart(const Book& book, const WheelRow& wheel, const JournalLine& line) {
  const auto cave = book.PlaceOf(wheel).cave;
  const auto standing = rules::StandingAt(wheel.History(), book.CalendarOf(cave), line.at);
  if (!standing.plan || standing.part + 1 >= standing.plan->parts.size()) return std::nullopt;
  return standing.plan->parts[standing.part + 1].start;
}

void GiveArrivals(const Book& book, const JournalLine& line, json::object& given) {
  const CaveKind to = KindGiven(book, given);
  std::map<StartKind, json::array> arrived;
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    const auto start = AwaitedStart(book, wheel, line);
    if (start && IsArrival(*start, KindAt(book, wheel), to)) arrived[*start].push_back(id);
  }
  json::array begins;
  for (auto& [start, wheels] : arrived) {
    begins.push_back({{"start", rules::ToText(start)},
                      {"day", ToText(book.Home().DayOf(line.at))},
                      {"reckoned", false},
                      {"wheels", std::move(wheels)}});
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
