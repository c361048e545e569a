#include "daemon/book/judge_house.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

using boost::json::object;

namespace {

// Initials stand in a narrow margin.
constexpr std::size_t kLongestName = 24;

std::string NameOf(const object& body, const char* field) {
  const std::string name = fields::Text(body, field);
  if (name.size() <= kLongestName) return name;
  throw ActFault{fmt::format("A keeper's name is at most {} bytes long; initials do.", kLongestName), field,
                 fmt::format("at most {} bytes", kLongestName), name, ""};
}

}  // namespace

object JudgeOrder(const Book& book, const object& body, JournalLine& line) {
  if (body.contains("cave")) {
    NameCave(book, body, line);
    fields::Texts(body, "shelves");
    return {};
  }
  NameCaves(book, body, "caves");
  fields::Truth(body, "by_room");
  return {};
}

object JudgeCalendar(const Book& book, const object& body, JournalLine& line) {
  NameCave(book, body, line);
  const auto days = fields::Numbers(body, "care_days");
  if (const auto wrong = std::ranges::find_if(days, [](auto day) { return day > 7; }); wrong != days.end()) {
    throw ActFault{"The days of a week are numbered from 1, Monday, to 7, Sunday.", "care_days", "1 to 7",
                   std::to_string(*wrong), ""};
  }
  return {};
}

object JudgeShare(const Book& book, const object& body, JournalLine&) {
  fields::Day(body, "day");
  NameOf(body, "by");
  NameCaves(book, body, "caves");
  fields::Texts(body, "lines");
  return {};
}

object JudgeKeeper(const Book& book, const object& body, JournalLine&) {
  const std::string name = NameOf(body, "name");
  if (!fields::TruthOr(body, "leaves", false)) return {};
  const auto keepers = book.Keepers();
  if (std::ranges::find(keepers, name) != keepers.end()) return {};
  throw ActFault{fmt::format("No keeper is called \"{}\".", name), "name", "a keeper of the house", name,
                 "Load the page anew; another phone may have taken the name out."};
}

object JudgeFeed(const Book&, const object& body, JournalLine&, const Beside& beside) {
  if (!fields::Truth(body, "open")) return {};
  return {{"secret", beside.secret}};
}

}  // namespace rindwatch
