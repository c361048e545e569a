#include "daemon/book/judge_away.hpp"

#include <fmt/format.h>

#include <map>
#include <set>

#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"
#include "rules/care/look_ahead.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::Date;
using std::chrono::days;

namespace {

constexpr days kLongest{366};

// Doings that were forgotten to be written, of all wheels that were alike in them.
struct Forgotten {
  rules::Instant at;
  std::vector<rules::CareKind> kinds;
  std::string plan;
  int version = 0;
  auto operator<=>(const Forgotten&) const = default;
};

std::map<Forgotten, std::vector<rules::WheelId>> ForgottenFrom(const Book& book, const JournalLine& line, Date from,
                                                               Date to) {
  std::map<Forgotten, std::vector<rules::WheelId>> forgotten;
  for (const WheelRow* wheel : book.Wheels()) {
    const rules::CareCalendar& calendar = book.CalendarOf(book.PlaceOf(*wheel).cave);
    for (const rules::UnsettledRound& round : rules::UnsettledRounds(wheel->History(), calendar, from, line.at)) {
      if (round.day > to) continue;
      const auto standing = rules::StandingAt(wheel->History(), calendar, round.at);
      if (standing.plan) {
        forgotten[{round.at, round.kinds, standing.plan->id, standing.plan->version}].push_back(wheel->id);
      }
    }
  }
  return forgotten;
}

object GiveForgotten(const Book& book, JournalLine& line, Date from, Date to) {
  json::array done;
  std::set<rules::WheelId> wheels;
  for (const auto& [what, of] : ForgottenFrom(book, line, from, to)) {
    json::array kinds;
    for (const rules::CareKind kind : what.kinds) kinds.push_back(json::string(rules::ToText(kind)));
    done.push_back({{"at", ToMillis(what.at)},
                    {"done", std::move(kinds)},
                    {"plan", what.plan},
                    {"version", what.version},
                    {"wheels", json::value_from(of)}});
    wheels.insert(of.begin(), of.end());
  }
  if (wheels.empty()) {
    throw ActFault{"Nothing is open of those days.", "from", "days with cares that are not settled", ToText(from),
                   "Load the page anew; another phone may have settled them."};
  }
  line.wheels.assign(wheels.begin(), wheels.end());
  line.late_entry = true;
  return {{"forgotten", std::move(done)}};
}

}  // namespace

object JudgeAway(const Book& book, const object& body, JournalLine& line) {
  const Date from = fields::Day(body, "from"), back = fields::Day(body, "back");
  if (back <= from) {
    throw ActFault{"Whoever leaves comes back on a later day.", "back", "a day after " + ToText(from), ToText(back),
                   "Choose the first day on which somebody is there again."};
  }
  if (back - from > kLongest) {
    throw ActFault{"An absence is at most a year long.", "back", "at most " + ToText(from + kLongest), ToText(back),
                   ""};
  }
  if (!body.contains("caves") || body.at("caves").is_null()) return {};
  const auto caves = NameCaves(book, body, "caves");
  if (caves.empty()) {
    throw ActFault{"An absence is from at least one cave.", "caves", "at least one cave, or no such field", "none", ""};
  }
  if (caves.size() == 1) line.cave = caves.front();
  return {};
}

object JudgePast(const Book& book, const object& body, JournalLine& line) {
  const std::string how = fields::Text(body, "how");
  const Date from = fields::Day(body, "from"), to = fields::Day(body, "to");
  const Date today = book.Home().DayOf(line.at);
  if (to < from || to >= today || to - from > kLongest) {
    throw ActFault{fmt::format("What is settled are days up to yesterday, {}.", ToText(today - days{1})), "to",
                   fmt::format("{} to {}", ToText(from), ToText(today - days{1})), ToText(to), ""};
  }
  if (how == "all fine") return GiveForgotten(book, line, from, to);
  if (how != "away") {
    throw ActFault{"The past is settled as away or as all fine.", "how", "away or all fine", how, ""};
  }
  return {{"back", ToText(to + days{1})}};
}

}  // namespace rindwatch
