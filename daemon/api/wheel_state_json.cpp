#include "daemon/api/wheel_state_json.hpp"

#include <algorithm>

#include "daemon/api/json.hpp"
#include "daemon/book/newest.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::array MarksJson(const Book& book, const WheelRow& wheel) {
  json::array marks;
  for (const auto* mark : book.MarksOf(wheel)) {
    json::object object{{"what", mark->value->what}, {"at", ToMillis(mark->from)}, {"act", mark->act.Text()}};
    if (mark->value->look_again) object["look_again"] = DayJson(*mark->value->look_again);
    marks.push_back(std::move(object));
  }
  return marks;
}

void AddBand(json::object& into, const OwnBand* band) {
  if (!band) return;
  json::object object;
  SetSpan(object, "temperature", band->temperature);
  SetSpan(object, "humidity", band->humidity);
  into["own_band"] = std::move(object);
}

bool IsAnswered(const Book& book, const WheelRow& wheel, const rules::Branch& branch) {
  return std::ranges::any_of(wheel.History().branches, [&](const rules::BranchAnswer& answer) {
    return !book.IsUndone(answer.id, wheel.id) &&
           std::ranges::find(branch.options, answer.option, &rules::BranchOption::name) != branch.options.end();
  });
}

void AddBranch(json::object& into, const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  const auto& branch = standing.plan->parts[standing.part].branch;
  if (!branch || standing.branch_option.empty()) return;
  json::array options;
  for (const rules::BranchOption& option : branch->options) options.push_back(json::string(option.name));
  into["branch"] = {{"option", standing.branch_option},
                    {"options", std::move(options)},
                    {"default", !IsAnswered(book, wheel, *branch)}};
}

}  // namespace

void AddState(json::object& into, const Book& book, const WheelRow& wheel, const rules::Standing& standing) {
  into["lot_id"] = wheel.lot;
  into["number"] = book.NumberOf(wheel);
  if (const auto* hold = book.HoldOf(wheel)) {
    into["held"] = {{"at", ToMillis(hold->from)}, {"why", hold->value.why}};
  }
  into["marks"] = MarksJson(book, wheel);
  const auto* cut = book.CutOf(wheel);
  into["left"] = cut ? cut->value.left : 1.0;
  if (cut) into["cut_at"] = ToMillis(cut->from);
  AddBand(into, book.BandOf(wheel));
  AddBranch(into, book, wheel, standing);
  if (const rules::Grams weight = book.WeightOf(wheel); weight.value > 0) into["grams"] = weight.value;
}

json::array WeighingsJson(const Book& book, const WheelRow& wheel) {
  json::array array;
  for (const auto* weighing : NotUndone(book, wheel.weighings, wheel.id)) {
    array.push_back({{"at", ToMillis(weighing->from)},
                     {"day", DayJson(book.Home().DayOf(weighing->from))},
                     {"grams", weighing->value.value}});
  }
  return array;
}

}  // namespace rindwatch
