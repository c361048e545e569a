#include "daemon/api/round_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "daemon/api/cadence_word.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/round/found_at.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CareLine;
using rules::CaveId;
using rules::RoundWheel;

namespace {

json::array WheelIds(const std::vector<RoundWheel>& wheels) {
  json::array ids;
  for (const RoundWheel& wheel : wheels) ids.push_back(wheel.id);
  return ids;
}

json::array NumbersOf(const std::vector<RoundWheel>& wheels) {
  json::array numbers;
  for (const RoundWheel& wheel : wheels) numbers.push_back(wheel.number);
  return numbers;
}

template <typename Words>
json::array WordsJson(const Words& words) {
  json::array array;
  for (const auto word : words) array.push_back(json::string(rules::ToText(word)));
  return array;
}

std::string NoteOf(const CareLine& care) { return care.care ? care.care->note : std::string{}; }

json::array FoundAtJson(const Book& book, const rules::RoundLine& line) {
  json::array found;
  for (const FaultSeen* fault : FoundAt(book, line))
    found.push_back({{"what", fault->what}, {"place", PlaceName(book, fault->place)}});
  return found;
}

void AddSettlement(json::object& object, const Book& book, const CareLine& care) {
  SetAt(object, "settled_at", care.settled_at);
  // What came with the entry is no act that could be undone by itself.
  if (const std::string id = care.settled_by.Text(); IsActId(id)) object["settled_by"] = id;
  if (!care.reason.empty()) object["reason"] = care.reason;
  if (const std::string* keeper = book.KeeperOf(care.settled_by)) object["keeper"] = *keeper;
}

bool IsPlaceFor(rules::StartKind start, CaveKind kind) {
  if (start == rules::StartKind::kEnteredBox)
    return kind == CaveKind::kBox || kind == CaveKind::kFridge || kind == CaveKind::kRoom;
  const bool is_move = start == rules::StartKind::kEnteredCave || start == rules::StartKind::kEnteredColdStore;
  return is_move && kind != CaveKind::kCounter;
}

// How likely a cave is the one meant: it lies there already, others of its plan do, others of its rind.
struct Likely {
  bool cold = false;  // a fridge, where it goes into the cold
  bool here = false;
  int of_plan = 0, of_rind = 0;
  auto operator<=>(const Likely&) const = default;
};

std::map<CaveId, Likely> LikelyPlaces(const Book& book, const rules::RoundQuestion& ask) {
  const rules::Plan& plan = *ask.schedule->standing.plan;
  std::map<CaveId, Likely> likely;
  for (const WheelRow* wheel : book.Wheels()) {
    const Place place = book.PlaceOf(*wheel);
    if (!place.cave || wheel->History().plans.empty()) continue;
    const rules::Plan& theirs = *wheel->History().plans.back().plan;
    Likely& cave = likely[*place.cave];
    cave.of_plan += theirs.id == plan.id ? 1 : 0;
    cave.of_rind += theirs.rind == plan.rind ? 1 : 0;
  }
  for (const CaveRow* cave : book.Caves()) {
    likely[cave->id].cold =
        ask.question->start == rules::StartKind::kEnteredColdStore && cave->kind == CaveKind::kFridge;
    likely[cave->id].here = cave->id == ask.place.cave;
  }
  return likely;
}

// Eaten young: of the road that leaves the default one, else of the one that it follows.
void AddReady(json::object& object, const ApiContext& context, const rules::RoundQuestion& ask) {
  const WheelRow* wheel = context.book().Wheel(ask.wheels.front().id);
  const rules::Standing& standing = ask.schedule->standing;
  if (!wheel || !standing.plan->parts[standing.part].branch) return;
  const auto windows = ReadyWindowsOf(context, *wheel);
  if (windows.empty()) return;
  object["ready"] = {{"from", DayJson(windows.back().from)}, {"to", DayJson(windows.back().to)}};
}

void AddUsual(json::object& object, const rules::Standing& standing) {
  const std::size_t next = standing.part + 1;
  if (next >= standing.plan->parts.size()) return;
  if (const auto& usual = standing.plan->parts[next].usual_days)
    object["usual"] = {{"low", usual->low}, {"high", usual->high}};
}

}  // namespace

std::vector<const CaveRow*> PlacesFor(const Book& book, const rules::RoundQuestion& ask) {
  std::vector<const CaveRow*> places;
  for (const CaveRow* cave : book.Caves()) {
    if (IsPlaceFor(ask.question->start, cave->kind)) places.push_back(cave);
  }
  if (places.size() < 2) return places;
  auto likely = LikelyPlaces(book, ask);
  std::ranges::stable_sort(places, std::ranges::greater{}, [&](const CaveRow* cave) { return likely[cave->id]; });
  return places;
}

double MinutesOf(double seconds) { return std::round(seconds / 60 * 100) / 100; }

std::string PlaceName(const Book& book, const rules::RoundPlace& place) {
  return PlaceName(book, book.Cave(place.cave), place.shelf);
}

int LotHere(const Book& book, const rules::RoundLine& line) {
  const WheelRow* first = book.Wheel(line.wheels.front().id);
  return std::max(first ? book.LotOnShelf(*first) : 0, static_cast<int>(line.wheels.size()));
}

std::optional<rules::StartKind> SinceOf(const rules::Standing& standing) {
  constexpr int kFirstDays = 7;
  if (!standing.plan || !standing.stage || standing.part == 0 || standing.day > kFirstDays) return std::nullopt;
  return standing.plan->parts.at(standing.part).start;
}

std::optional<rules::Figure> WantsThen(const rules::RoundLine& line) {
  const rules::Standing& standing = line.TheStanding();
  if (!standing.plan || !standing.stage || standing.part + 1 >= standing.plan->parts.size()) return std::nullopt;
  const rules::Part& next = standing.plan->parts[standing.part + 1];
  const auto begun = rules::BegunBy(next);
  if (!begun || next.stages.empty() || std::ranges::count(line.care->kinds, *begun) == 0) return std::nullopt;
  const auto& now = standing.stage->temperature_band;
  const auto& then = next.stages.front().temperature_band;
  if (!now || !then || std::max(now->low, then->low) < std::min(now->high, then->high)) return std::nullopt;
  return next.stages.front().temperature_target.value_or(*then);
}

std::string RoundLotName(const Book& book, LotId lot) {
  return book.ShowsLot(lot) ? book.Lot(lot).name : std::string{};
}

// "released" only where every wheel of it was let go.
std::string StateOf(const Book& book, const std::vector<RoundWheel>& wheels, const rules::Standing& standing) {
  const bool released = std::ranges::all_of(wheels, [&](const RoundWheel& one) {
    const WheelRow* wheel = book.Wheel(one.id);
    return wheel != nullptr && book.ReleaseOf(*wheel) != nullptr;
  });
  return released ? "released" : StateWord(standing);
}

std::string KeyOf(const rules::RoundLine& line) {
  const auto first = std::ranges::min(line.wheels, {}, &RoundWheel::id).id;
  std::string kinds;
  for (const rules::CareKind kind : line.care->kinds) kinds += (kinds.empty() ? "" : "+") + std::string(ToText(kind));
  return fmt::format("{}-{}{}", first, kinds, line.care->evening ? "-e" : "");
}

std::string CadenceNews(const Words& words, const rules::NewCadence& news) {
  return words.Say(news.from_tomorrow ? "round.cadence tomorrow" : "round.cadence now",
                   {{"cadence", CadenceWord(words, news.cadence)}});
}

json::object RoundLineJson(const ApiContext& context, const rules::Round::Line& at,
                           const std::vector<rules::LookFirst>& looks) {
  const Book& book = context.book();
  const rules::RoundLine& line = *at.line;
  const CareLine& care = *line.care;
  const rules::Standing& standing = line.TheStanding();
  const CaveRow* cave = book.Cave(line.place.cave);
  json::object object{{"key", KeyOf(line)},
                      {"section", at.section},
                      {"minutes", MinutesOf(line.seconds)},
                      {"numbers", NumbersOf(line.wheels)},
                      {"two_people", line.two_people},
                      {"look_first", WordsJson(looks)},
                      {"held", line.held},
                      {"cut", std::ranges::count_if(line.wheels, &RoundWheel::cut)},
                      {"rind", rules::ToText(line.Rind())},
                      {"cave", line.place.cave},
                      {"cave_name", cave ? cave->name : std::string{}},
                      {"place", PlaceName(book, line.place)},
                      {"wheels", WheelIds(line.wheels)},
                      {"lot", RoundLotName(book, line.lot)},
                      {"lot_here", LotHere(book, line)},
                      {"family", ShortFamily(*standing.plan)},
                      {"day", standing.day},
                      {"age", standing.age},
                      {"stage", standing.stage ? standing.stage->name : std::string{}},
                      {"wheel_state", StateOf(book, line.wheels, standing)},
                      {"kinds", KindsJson(care.kinds)},
                      {"done_kinds", KindsJson(care.done_kinds)},
                      {"skipped_kinds", KindsJson(care.skipped_kinds)},
                      {"state", rules::ToText(care.state)},
                      {"due", DayJson(care.due)},
                      {"away", care.away},
                      {"evening", care.evening},
                      {"note", NoteOf(care)},
                      {"past_plan", standing.past_plan}};
  if (const auto since = SinceOf(standing)) object["since"] = rules::ToText(*since);
  SetSpan(object, "then", WantsThen(line));
  if (line.mark) object["marked"] = rules::ToText(*line.mark);
  if (json::array found = FoundAtJson(book, line); !found.empty()) object["found_at"] = std::move(found);
  if (line.new_cadence) object["new_cadence"] = CadenceNews(context.words, *line.new_cadence);
  if (care.late_since) object["late_since"] = DayJson(*care.late_since);
  AddSettlement(object, book, care);
  return object;
}

std::string QuestionText(const Words& words, const rules::Question& question) {
  if (!question.text.empty()) return question.text;
  return words.Say("question." + std::string(rules::ToText(question.start)));
}

json::object RoundQuestionJson(const ApiContext& context, const rules::Round::Ask& at) {
  const Book& book = context.book();
  const rules::RoundQuestion& ask = *at.question;
  const rules::Question& question = *ask.question;
  const rules::Standing& standing = ask.schedule->standing;
  const bool is_start = question.kind == rules::Question::Kind::kStart;
  const std::string text = QuestionText(context.words, question);
  json::object object{{"key", fmt::format("{}-{}", std::ranges::min(ask.wheels, {}, &RoundWheel::id).id, text)},
                      {"section", at.section},
                      {"cave", ask.place.cave},
                      {"place", PlaceName(book, ask.place)},
                      {"wheels", WheelIds(ask.wheels)},
                      {"lot", RoundLotName(book, ask.lot)},
                      {"family", ShortFamily(*standing.plan)},
                      {"day", standing.day},
                      {"wheel_state", StateOf(book, ask.wheels, standing)},
                      {"kind", is_start ? "start" : "branch"},
                      {"text", text}};
  if (const auto since = SinceOf(standing)) object["since"] = rules::ToText(*since);
  if (!is_start) {
    json::array options;
    for (const std::string& option : question.options) options.push_back(json::string(option));
    object["options"] = std::move(options);
    AddReady(object, context, ask);
    return object;
  }
  object["start"] = rules::ToText(question.start);
  AddUsual(object, standing);
  json::array where;
  for (const CaveRow* cave : PlacesFor(book, ask)) where.push_back({{"cave", cave->id}, {"cave_name", cave->name}});
  if (!where.empty()) object["where"] = std::move(where);
  return object;
}

json::object RoundSectionJson(const rules::RoundSection& section) {
  return {{"rind", rules::ToText(section.rind)},
          {"marked", section.marked},
          {"change", WordsJson(section.change)},
          {"minutes", MinutesOf(static_cast<double>(section.seconds.count()))}};
}

json::object BringJson(const Book& book, const rules::Bring& bring) {
  json::array washes;
  for (const rules::BringWash& wash : bring.washes) {
    json::array additions;
    for (const rules::MixedAddition& addition : wash.mixing.additions)
      additions.push_back({{"name", addition.name}, {"ml", std::round(addition.volume.value)}});
    json::array places;
    for (const rules::RoundPlace& place : wash.places) places.push_back(json::string(PlaceName(book, place)));
    washes.push_back({{"salt_grams", std::round(wash.mixing.salt.value)},
                      {"water_ml", std::round(wash.mixing.water.value)},
                      {"total_grams", std::round(wash.mixing.total.value)},
                      {"percent", wash.mixing.strength.value},
                      {"additions", std::move(additions)},
                      {"wheels", wash.wheels},
                      {"places", std::move(places)},
                      {"note", wash.recipe.note}});
  }
  return {{"washes", std::move(washes)},
          {"cloths", bring.cloths},
          {"tools", WordsJson(bring.tools)},
          {"two_people", bring.two_people},
          {"mask", bring.mask}};
}

}  // namespace rindwatch
