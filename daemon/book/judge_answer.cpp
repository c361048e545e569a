#include "daemon/book/judge_answer.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

using boost::json::object;

namespace {

bool HasRoad(const rules::Plan& plan, const std::string& option) {
  return std::ranges::any_of(plan.parts, [&](const rules::Part& part) {
    return part.branch &&
           std::ranges::find(part.branch->options, option, &rules::BranchOption::name) != part.branch->options.end();
  });
}

// A start that the plan counts a later part from.
bool HasStart(const rules::Plan& plan, const std::string& start) {
  const auto kind = rules::StartKindFrom(start);
  return kind &&
         std::ranges::find(plan.parts.begin() + 1, plan.parts.end(), *kind, &rules::Part::start) != plan.parts.end();
}

// Calls `check` with each wheel's plan and the day on which the wheel was made.
template <typename Check>
void ForPlans(const Book& book, const JournalLine& line, const Check& check) {
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    const auto standing = rules::StandingAt(wheel.History(), book.CalendarOf(line.cave), line.at);
    if (!standing.plan) {
      throw ActFault{"The wheel was not yet in the book at that time.", "said_at", "a later time", ToText(line.at),
                     "Choose a time after it was entered."};
    }
    check(*standing.plan, wheel.History().starts.empty() ? standing.part_start : wheel.History().starts.front().day);
  }
}

rules::Date StartDay(const Book& book, const object& body, const JournalLine& line) {
  const rules::Date today = book.Home().DayOf(line.received_at);
  const rules::Date day = fields::MaybeDay(body, "day").value_or(book.Home().DayOf(line.at));
  if (day > today) {
    throw ActFault{fmt::format("{} lies in the future; today is {}.", ToText(day), ToText(today)), "day",
                   "today or an earlier day", ToText(day), "Choose the day on which it happened."};
  }
  ForPlans(book, line, [&](const rules::Plan&, rules::Date made) {
    if (day >= made) return;
    throw ActFault{fmt::format("{} lies before {}, the day on which it was made.", ToText(day), ToText(made)), "day",
                   "a day from " + ToText(made) + " on", ToText(day), "Choose the day on which it happened."};
  });
  return day;
}

}  // namespace

object JudgeAnswer(const Book& book, const object& body, JournalLine& line) {
  object given;
  if (body.contains("option")) {
    const std::string option = fields::Text(body, "option");
    ForPlans(book, line, [&](const rules::Plan& plan, rules::Date) {
      if (HasRoad(plan, option)) return;
      throw ActFault{fmt::format("The plan has no road called \"{}\".", option), "option", "an answer of the question",
                     option, ""};
    });
    return given;
  }
  const std::string start = fields::Text(body, "start");
  ForPlans(book, line, [&](const rules::Plan& plan, rules::Date) {
    if (HasStart(plan, start)) return;
    throw ActFault{fmt::format("The plan counts no later part from \"{}\".", start), "start", "a start of the plan",
                   start, ""};
  });
  given["day"] = ToText(StartDay(book, body, line));
  if (const object* to = fields::MaybeObject(body, "move_to")) {
    GivePlace(book, *to, "move_to", given);
    line.cave = given.at("cave").to_number<std::int64_t>();
    GiveDoorNumber(book, *to, line, given);
  }
  return given;
}

}  // namespace rindwatch
