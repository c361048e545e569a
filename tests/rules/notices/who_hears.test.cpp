#include "rules/notices/who_hears.hpp"

#include <string>

#include "tests/catch.hpp"

namespace rindwatch::rules {

TEST_CASE("who hears: those who want it and are there, in their order; where all are away nobody or each of them") {
  const Date day{std::chrono::days{20'000}};
  const Holiday away{day, day + std::chrono::days{1}};
  const auto hear = [&](const std::vector<Hearer>& hearers, Severity severity, AllAway all_away) {
    std::string names;
    for (const Hearer* hearer : WhoHears(hearers, severity, day, all_away)) names += hearer->name;
    return names;
  };
  const std::vector<Hearer> some{
      {.name = "I"}, {.name = "T", .least = Severity::kUrgent}, {.name = "M", .holidays = {away}}, {.name = "A"}};
  for (const AllAway all_away : {AllAway::kNobody, AllAway::kEach}) {
    CHECK(hear(some, Severity::kWatch, all_away) == "IA");
    CHECK(hear(some, Severity::kUrgent, all_away) == "ITA");
    CHECK(hear({{.name = "T", .least = Severity::kUrgent}}, Severity::kWatch, all_away).empty());
  }
  const std::vector<Hearer> none{{.name = "I", .holidays = {away}},
                                 {.name = "T", .least = Severity::kUrgent, .holidays = {away}},
                                 {.name = "M", .holidays = {away}}};
  CHECK(hear(none, Severity::kAct, AllAway::kNobody).empty());
  CHECK(hear(none, Severity::kAct, AllAway::kEach) == "IM");
}

}  // namespace rindwatch::rules
