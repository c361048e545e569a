// A round told in wheels: plans of tests/rules/care/wheel.hpp, places by name.
#pragma once

#include <string>
#include <vector>

#include "rules/round/round.hpp"
#include "tests/rules/care/wheel.hpp"

namespace rindwatch::rules::testing {

// A plan of one part, counted from "made", whose stage has these cares.
inline std::shared_ptr<const Plan> RoundPlan(RindClass rind, std::vector<Care> cares, int hardiness = 2,
                                             WheelState state = WheelState::kRipening) {
  Plan plan = PlanOf({StageOf(1, std::nullopt, std::move(cares))});
  plan.rind = rind;
  plan.hardiness = hardiness;
  plan.parts[0].stages[0].state = state;
  return std::make_shared<const Plan>(std::move(plan));
}

inline Care WithRecipe(Care care, double percent) {
  care.wash = Wash{.salt = {percent, percent, "invented"}, .additions = {}, .note = ""};
  return care;
}

// Wheels of one life: made on `made`, entered on `entered` (the day looked at if not given), looked at on `day` at
// 07:00 UTC.
inline std::shared_ptr<const Schedule> LifeOn(int day, const std::shared_ptr<const Plan>& plan, int made,
                                              std::optional<int> entered = {}) {
  WheelHistory wheel;
  wheel.plans.push_back({plan, Instant{Day(made).time_since_epoch()}, "plan"});
  wheel.starts.push_back({"made", StartKind::kMade, Day(made), Instant{Day(made).time_since_epoch()}, false});
  wheel.entered = Instant{(Day(entered.value_or(day)) + hours{6}).time_since_epoch()};
  const CareCalendar calendar{{Zone{}, 4}, {}, {}};
  return std::make_shared<const Schedule>(
      ScheduleAt(wheel, calendar, Instant{(Day(day) + hours{7}).time_since_epoch()}));
}

// Caves are in the order of their numbers, shelves in that of their names' last digit.
inline RoundGroup GroupOf(CaveId cave, std::string shelf, std::shared_ptr<const Schedule> schedule,
                          std::vector<WheelId> wheels, double grams = 2000) {
  RoundGroup group;
  group.place.cave = cave;
  group.place.cave_order = group.place.room = static_cast<int>(cave);
  group.place.shelf_order = shelf.empty() ? 0 : shelf.back() - '0';
  group.place.shelf = std::move(shelf);
  group.lot = wheels.front();
  group.schedule = std::move(schedule);
  for (const WheelId id : wheels) group.wheels.push_back({id, static_cast<int>(id), Grams{grams}, false});
  return group;
}

inline std::string TextOf(const Round& round) {
  std::string text;
  std::size_t section = 0;
  for (std::size_t i = 0; i < round.lines.size(); ++i) {
    const Round::Line& line = round.lines[i];
    for (; section <= line.section; ++section) {
      text += "=";
      for (const Change change : round.sections[section].change) text += " " + std::string(ToText(change));
      text += "\n";
    }
    text += std::to_string(line.line->place.cave) + line.line->place.shelf;
    for (const CareKind kind : line.line->care->kinds) text += " " + std::string(ToText(kind));
    for (const RoundWheel& wheel : line.line->wheels) text += " " + std::to_string(wheel.id);
    text += " " + std::string(ToText(line.line->care->state)) + "\n";
  }
  for (const Round::Ask& ask : round.questions) {
    text += "? " + ask.question->question->text;
    for (const RoundWheel& wheel : ask.question->wheels) text += " " + std::to_string(wheel.id);
    text += " in " + std::to_string(ask.section) + "\n";
  }
  return text;
}

}  // namespace rindwatch::rules::testing
