#include "daemon/book/judge_fault.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"
#include "rules/faults/neighbours.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::WheelId;

namespace {

rules::FaultKind KindOf(const object& body) {
  const std::string word = fields::Text(body, "what");
  if (const auto kind = rules::FaultKindFrom(word)) return *kind;
  throw ActFault{fmt::format("Nobody knows a fault called \"{}\".", word), "what", "a fault such as \"slime\"", word,
                 ""};
}

void CheckCount(const object& body, const JournalLine& line) {
  const auto of = fields::Whole(body, "of");
  if (of >= static_cast<std::int64_t>(line.wheels.size())) return;
  throw ActFault{fmt::format("{} of {} cannot have the fault.", line.wheels.size(), of), "of",
                 fmt::format("at least {}", line.wheels.size()), std::to_string(of), ""};
}

// Wheels of one rind and age get the same advice.
struct Alike {
  rules::RindClass rind = rules::RindClass::kNaturalAndPressed;
  int age = 0;
  auto operator<=>(const Alike&) const = default;
};

std::map<Alike, std::vector<WheelId>> GroupsOf(const Book& book, const JournalLine& line) {
  std::map<Alike, std::vector<WheelId>> groups;
  for (const WheelId id : line.wheels) {
    const auto standing = rules::StandingAt(book.Wheel(id)->History(), book.CalendarOf(line.cave), line.at);
    groups[standing.plan ? Alike{standing.plan->rind, std::max(standing.age, 0)} : Alike{}].push_back(id);
  }
  return groups;
}

std::vector<rules::LyingWheel> LyingWheels(const Book& book) {
  std::vector<rules::LyingWheel> lying;
  for (const WheelRow* wheel : book.Wheels()) {
    const Place place = book.PlaceOf(*wheel);
    lying.push_back({wheel->id, wheel->lot, place.cave.value_or(0), place.shelf});
  }
  return lying;
}

std::map<rules::CaveId, std::vector<std::string>> ShelvesOf(const Book& book) {
  std::map<rules::CaveId, std::vector<std::string>> shelves;
  for (const CaveRow* cave : book.Caves()) shelves[cave->id] = book.ShelvesOf(*cave);
  return shelves;
}

// A look that was agreed for the day already, at another wheel's fault, is not asked twice.
bool IsLookAgreed(const Book& book, WheelId id, rules::Date day) {
  return std::ranges::any_of(book.Wheel(id)->History().agreed, [&](const rules::AgreedCare& agreed) {
    return agreed.kind == rules::CareKind::kLook && agreed.day == day && !book.IsUndone(agreed.id, id);
  });
}

json::array LooksAt(const Book& book, const rules::LookAgain& where, rules::Date day) {
  std::set<WheelId> wheels;
  for (const auto* list : {&where.these, &where.neighbours, &where.sisters}) wheels.insert(list->begin(), list->end());
  std::erase_if(wheels, [&](WheelId id) { return IsLookAgreed(book, id, day); });
  return json::value_from(std::vector<WheelId>(wheels.begin(), wheels.end())).as_array();
}

void GiveAgreed(const Book& book, const JournalLine& line, rules::FaultKind kind, object& given) {
  json::array marks, cares;
  const auto lying = LyingWheels(book);
  const auto shelves = ShelvesOf(book);
  for (const auto& [alike, wheels] : GroupsOf(book, line)) {
    const auto plan = rules::PlanFor(kind, alike.rind, alike.age, book.Home().DayOf(line.at));
    const json::array these = json::value_from(wheels).as_array();
    marks.push_back({{"look_again", ToText(plan.look_again)}, {"wheels", these}});
    for (const rules::FaultPlanCare& care : plan.cares) {
      object agreed{{"kind", rules::ToText(care.kind)}, {"day", ToText(care.day)}, {"wheels", these}};
      if (care.stands_for) agreed["stands_for"] = rules::ToText(*care.stands_for);
      cares.push_back(std::move(agreed));
    }
    json::array looks = LooksAt(book, rules::WhereToLookAgain(*plan.advice, wheels, lying, shelves), plan.look_again);
    if (looks.empty()) continue;
    cares.push_back({{"kind", "look"}, {"day", ToText(plan.look_again)}, {"wheels", std::move(looks)}});
  }
  given["marks"] = std::move(marks);
  given["agreed"] = std::move(cares);
}

void GiveHeld(const Book& book, const object& body, const JournalLine& line, object& given) {
  const std::string hold = fields::TextOr(body, "hold", "");
  if (hold.empty()) return;
  if (hold != "wheels" && hold != "lot") {
    throw ActFault{"What is held are the wheels or their lot.", "hold", "wheels or lot", hold, ""};
  }
  if (hold == "wheels") {
    given["held"] = json::value_from(line.wheels);
    return;
  }
  std::set<LotId> lots;
  for (const WheelId id : line.wheels) lots.insert(book.Wheel(id)->lot);
  json::array held;
  for (const WheelRow* wheel : book.Wheels()) {
    if (lots.contains(wheel->lot)) held.push_back(wheel->id);
  }
  given["held"] = std::move(held);
}

}  // namespace

object JudgeFault(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  const rules::FaultKind kind = KindOf(body);
  CheckCount(body, line);
  fields::TextOr(body, "note", "");
  object given;
  // Who only notes it marks the wheels all the same: what is marked comes last in the round.
  given["marks"] = json::array{{{"wheels", json::value_from(line.wheels)}}};
  if (fields::Truth(body, "agreed")) GiveAgreed(book, line, kind, given);
  GiveHeld(book, body, line, given);
  return given;
}

}  // namespace rindwatch
