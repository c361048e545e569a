#include "daemon/book/judge_wheels.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

using boost::json::object;

namespace {

// A name is looked for among all lots: two of one name could never be told apart on a label.
void CheckLotName(const Book& book, const std::string& name) {
  if (!book.IsLotNamed(name)) return;
  throw ActFault{fmt::format("There is a lot called \"{}\" already.", name), "lot", "a name that is free", name,
                 "Choose another name."};
}

}  // namespace

object JudgeHold(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  if (!fields::Truth(body, "held")) {
    fields::TextOr(body, "why", "");
    return {};
  }
  if (fields::TextOr(body, "why", "").empty()) {
    throw ActFault{"A hold says why.", "why", "a reason such as \"slime\"", "none", ""};
  }
  return {};
}

object JudgeCut(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  fields::Text(body, "how");
  const double left = fields::Number(body, "left");
  if (left <= 0 || left >= 1) {
    throw ActFault{"What is left of a cut wheel is a share between 0 and 1.", "left", "more than 0, less than 1",
                   fmt::format("{}", left), "If nothing is left, say that it is gone."};
  }
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    const auto* before = book.CutOf(wheel);
    if (!before || before->from > line.at || left <= before->value.left) continue;
    throw ActFault{fmt::format("{} was cut before; {} of it was left.", book.WheelName(wheel), before->value.left),
                   "left", fmt::format("at most {}", before->value.left), fmt::format("{}", left),
                   "Undo the cut that was wrong."};
  }
  return {};
}

object JudgeSplit(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  const std::string name = fields::Text(body, "lot");
  CheckLotName(book, name);
  const LotId lot = book.Wheel(line.wheels.front())->lot;
  const auto of_another = std::ranges::find_if(line.wheels, [&](auto id) { return book.Wheel(id)->lot != lot; });
  if (of_another != line.wheels.end()) {
    const LotId other = book.Wheel(*of_another)->lot;
    throw ActFault{"Wheels of several lots cannot become one: they were not made together.", "wheels",
                   fmt::format("wheels of lot {}", book.Lot(lot).name),
                   fmt::format("one of lot {}", book.Lot(other).name), "Split each lot by itself."};
  }
  return {{"lot", book.NextLot()}, {"plan", book.Lot(lot).plan_id}};
}

object JudgeBand(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  CheckSpan(body, "temperature", -10, 40);
  CheckSpan(body, "humidity", 0, 100);
  return {};
}

}  // namespace rindwatch
