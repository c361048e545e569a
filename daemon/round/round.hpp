// The round of a day of this house: the book, handed to the rules. Facts, no sentences.
#pragma once

#include <optional>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/round/outlook.hpp"
#include "rules/round/bring.hpp"
#include "rules/round/round.hpp"
#include "rules/round/short_round.hpp"

namespace rindwatch {

// Good until the book takes in another fact.
struct DayRound {
  rules::Instant asked;   // the instant at which it stood so
  bool expected = false;  // a day to come, as a perfect keeper will find it
  rules::RoundHabits habits;
  rules::Round work;

  rules::Date Day() const { return work.day; }
  std::size_t Left() const { return work.Left(); }
};

rules::RoundHabits HabitsOf(const Book& book, const rules::Pace& pace);
// Another instant's: lines and places as they were known then.
DayRound RoundAsOf(const Book& book, rules::Instant at, const rules::Pace& pace = {});
// Of a day to come.
DayRound ExpectedRound(const Book& book, rules::Instant now, rules::Date day, const rules::Pace& pace = {});

}  // namespace rindwatch
