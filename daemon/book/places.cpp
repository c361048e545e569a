#include "daemon/book/places.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CaveId;

namespace {

std::string UsualName(CaveKind kind) {
  switch (kind) {
    case CaveKind::kCounter:
      return "Counter";
    case CaveKind::kBox:
      return "Box";
    case CaveKind::kFridge:
      return "Fridge";
    case CaveKind::kRoom:
      return "Cellar";
  }
  return "Cellar";
}

bool IsTaken(const Book& book, const json::array& made, const std::string& name) {
  const auto is_name = [&](const json::value& row) { return row.as_object().at("name").as_string() == name; };
  if (std::ranges::any_of(made, is_name)) return true;
  return std::ranges::any_of(book.Caves(), [&](const CaveRow* cave) { return cave->name == name; });
}

// Boxes are counted from the first ("Box 1"), the others only from the second ("Fridge", "Fridge 2").
std::string FreeName(const Book& book, const json::array& made, CaveKind kind) {
  const std::string usual = UsualName(kind);
  if (kind != CaveKind::kBox && !IsTaken(book, made, usual)) return usual;
  for (int number = kind == CaveKind::kBox ? 1 : 2;; ++number) {
    std::string name = fmt::format("{} {}", usual, number);
    if (!IsTaken(book, made, name)) return name;
  }
}

CaveId NewCave(const Book& book, const json::object& wanted, const char* field, json::array& made) {
  const std::string word = fields::Text(wanted, "kind");
  const auto kind = CaveKindFrom(word);
  if (!kind) {
    throw ActFault{fmt::format("The kind of a cave is a counter, box, fridge or room, found \"{}\".", word), field,
                   "counter, box, fridge or room", word, ""};
  }
  json::value inside = nullptr;
  if (const json::object* outer =
          wanted.contains("inside") && wanted.at("inside").is_object() ? &wanted.at("inside").as_object() : nullptr) {
    inside = NewCave(book, *outer, field, made);
  } else if (const auto id = fields::MaybeWhole(wanted, "inside")) {
    if (!book.Cave(*id)) {
      throw ActFault{fmt::format("There is no cave {} for it to stand in.", *id), field, "a cave of the book",
                     std::to_string(*id), ""};
    }
    inside = *id;
  }
  std::string name = fields::TextOr(wanted, "name", "");
  if (name.empty()) name = FreeName(book, made, *kind);
  const CaveId id = book.NextCave() + static_cast<CaveId>(made.size());
  json::object row{{"id", id}, {"kind", word}, {"name", name}, {"inside", inside}};
  if (fields::TruthOr(wanted, "ready_cheese", false)) row["ready_cheese"] = true;
  made.push_back(std::move(row));
  return id;
}

}  // namespace

void GivePlace(const Book& book, const json::object& where, const char* field, json::object& given) {
  fields::TextOr(where, "shelf", "");  // a board's name, or none
  if (const auto id = fields::MaybeWhole(where, "cave")) {
    if (!book.Cave(*id)) {
      throw ActFault{fmt::format("There is no cave {} in the book.", *id), field, "a cave of the book",
                     std::to_string(*id), "Load the page anew; another phone may have taken it away."};
    }
    given["cave"] = *id;
    return;
  }
  json::array made;
  given["cave"] = NewCave(book, fields::Object(where, "new"), field, made);
  given["caves"] = std::move(made);
}

void GiveDoorNumber(const Book& book, const json::object& where, const JournalLine& line, json::object& given) {
  given["door"] =
      book.NextDoorNumber(given.at("cave").to_number<CaveId>(), fields::TextOr(where, "shelf", ""), line.wheels);
}

}  // namespace rindwatch
