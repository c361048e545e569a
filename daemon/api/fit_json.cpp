#include <fmt/format.h>

#include <cmath>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/lives.hpp"
#include "daemon/api/qualifying_json.hpp"
#include "rules/ahead/ready.hpp"
#include "rules/ahead/way.hpp"
#include "rules/fit/fit.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::FitChannel;
using rules::FitCost;

namespace {

// The outermost cave around one: whatever stands in it shares its temperature.
const CaveRow* OutermostOf(const Book& book, const CaveRow* cave) {
  // A cave is inside one that came before it, so this ends.
  while (cave && cave->inside) cave = book.Cave(*cave->inside);
  return cave;
}

// Further ahead lies more than a keeper plans a place for.
constexpr std::chrono::days kFarAhead{120};

// A band of its own, where a keeper gave it one, holds whatever the stage.
rules::Bands BandsOf(const rules::Stage& stage, const OwnBand* own) {
  rules::Bands bands{stage.temperature_band, stage.humidity_band};
  if (own && own->temperature) bands.temperature = own->temperature;
  if (own && own->humidity) bands.humidity = own->humidity;
  return bands;
}

std::vector<rules::BandsFrom> ComingOf(const ApiContext& context, const Life& life, const OwnBand* own) {
  std::vector<rules::BandsFrom> coming;
  const auto calendar = context.book().CalendarOf(life.cave->id);
  const rules::Date today = calendar.turn.DayOf(context.now());
  const rules::Part* now = nullptr;
  for (const rules::WayStage& stage : rules::WayOf(life.First().History(), calendar, context.now())) {
    const bool to_come = stage.from > today;
    if (!to_come) now = stage.part;
    const bool leaves = stage.part != now && rules::LeavesFor(*stage.part, life.cave->kind == CaveKind::kCounter);
    if (to_come && (leaves || stage.from > today + kFarAhead)) break;
    if (to_come) coming.push_back({stage.from, BandsOf(*stage.stage, own)});
  }
  return coming;
}

// Who lies where the newcomer's air comes from, life by life.
std::vector<rules::FitGuest> GuestsAround(const ApiContext& context, const CaveRow& cave) {
  const Book& book = context.book();
  const CaveRow* const outermost = OutermostOf(book, &cave);
  std::vector<rules::FitGuest> guests;
  for (const Life& life : LivesOf(book)) {
    if (OutermostOf(book, life.cave) != outermost || !life.cave) continue;
    const auto standing = rules::StandingAt(life.First().History(), book.CalendarOf(life.cave->id), context.now());
    if (!standing.plan || !standing.stage) continue;
    rules::FitGuest guest;
    guest.family = ShortFamily(*standing.plan);
    guest.count = static_cast<int>(life.wheels.size());
    guest.hardiness = standing.plan->hardiness;
    guest.age = standing.age;
    guest.rind = standing.plan->rind;
    const OwnBand* own = book.BandOf(life.First());
    guest.bands = BandsOf(*standing.stage, own);
    guest.coming = ComingOf(context, life, own);
    guest.cave = life.cave->id;
    guest.same_air = life.cave->id == cave.id;
    guests.push_back(std::move(guest));
  }
  return guests;
}

rules::FitGuest Newcomer(const ApiContext& context, const FitQuestion& question) {
  const rules::Date today = context.book().Home().DayOf(context.now());
  rules::FitGuest guest;
  guest.family = ShortFamily(*question.plan);
  guest.hardiness = question.plan->hardiness;
  guest.age = static_cast<int>((today - question.made).count());
  guest.rind = question.plan->rind;
  guest.bands = rules::UsualBandsOn(*question.plan, question.made, today);
  const bool on_counter = question.cave != nullptr && question.cave->kind == CaveKind::kCounter;
  for (auto& coming : rules::UsualBandsAfter(*question.plan, question.made, today, on_counter)) {
    if (coming.from <= today + kFarAhead) guest.coming.push_back(std::move(coming));
  }
  return guest;
}

std::string SideOf(const FitCost& cost) {
  if (cost.channel == FitChannel::kTemperature) return cost.side > 0 ? "warm" : "cold";
  return cost.side > 0 ? "damp" : "dry";
}

// "3 points too damp", "1.5 degrees too cold".
std::string WordsOf(const Words& words, const FitCost& cost) {
  const std::string by = cost.channel == FitChannel::kTemperature ? fmt::format("{:g}", std::round(cost.by * 10) / 10)
                                                                  : fmt::format("{:.0f}", std::ceil(cost.by));
  return words.Say("fit.cost." + SideOf(cost) + (by == "1" ? ".one" : ".other"), {{"by", by}});
}

json::object CostJson(const ApiContext& context, const FitCost& cost) {
  json::array where;
  for (const rules::CaveId id : cost.caves) {
    if (const CaveRow* cave = context.book().Cave(id)) where.push_back(json::string(cave->name));
  }
  return {{"family", cost.family},
          {"count", cost.count},
          {"where", std::move(where)},
          {"channel", rules::ToText(cost.channel)},
          {"by", cost.by},
          {"newcomer", cost.newcomer},
          {"what", WordsOf(context.words, cost)}};
}

// That was typed last for wheels of this plan.
std::optional<rules::QualifyingRule> LastRule(const Book& book, const FitQuestion& question) {
  const Since<std::optional<rules::QualifyingRule>>* newest = nullptr;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto* rule = book.RuleOf(*wheel);
    const bool same_plan = wheel->History().plans.back().plan->id == question.plan->id;
    if (rule && same_plan && (!newest || newest->from <= rule->from)) newest = rule;
  }
  return newest ? newest->value : std::nullopt;
}

// Does its ready window close before the lawful day?
bool LawfulAfterReady(const ApiContext& context, const FitQuestion& question) {
  const auto rule = question.rule ? question.rule : LastRule(context.book(), question);
  const auto ready = rules::UsualReadyWindow(*question.plan, question.made);
  if (!rule || !ready) return false;
  const rules::Date start = question.made + std::chrono::days{rules::UsualDaysTo(*question.plan, rule->start).low};
  return ClosesBeforeLawful(rules::LawfulDate(*rule, start, rules::UsualStatesOf(*question.plan, question.made)),
                            ready->to);
}

json::object SpanOf(const rules::Figure& figure) { return {{"low", figure.low}, {"high", figure.high}}; }

}  // namespace

json::object FitJson(const ApiContext& context, const FitQuestion& question) {
  rules::Fit fit;
  json::array costs, later, advice;
  if (question.cave) {
    const bool in_box = question.cave->kind == CaveKind::kBox;
    const rules::FitGuest newcomer = Newcomer(context, question);
    const auto there = GuestsAround(context, *question.cave);
    fit = rules::FitFor(newcomer, there, in_box);
    for (const rules::FitLater& one : rules::FitToCome(newcomer, there)) {
      json::object& object = later.emplace_back(CostJson(context, one.cost)).as_object();
      object["from"] = DayJson(one.from);
    }
  }
  json::object shared;
  if (fit.shared.temperature) shared["temperature"] = SpanOf(*fit.shared.temperature);
  if (fit.shared.humidity) shared["humidity"] = SpanOf(*fit.shared.humidity);
  for (const FitCost& cost : fit.costs) costs.push_back(CostJson(context, cost));
  for (const rules::FitAdvice one : fit.advice) {
    advice.push_back(json::string(context.words.Say("fit.advice." + std::string(rules::ToText(one)))));
  }
  return {{"head", HeadJson(context)},   {"shared", std::move(shared)},
          {"costs", std::move(costs)},   {"later", std::move(later)},
          {"advice", std::move(advice)}, {"lawful_after_ready", LawfulAfterReady(context, question)}};
}

}  // namespace rindwatch
