// Cadences that count days and weeks against the worked examples of RFC 5545, section 3.8.5.3.
#include <sstream>

#include "rules/care/schedule.hpp"
#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"
#include "tests/rules/care/wheel.hpp"

namespace rindwatch::rules {
namespace {

using namespace testing;

Date DateIn(const std::string& text) {
  return MakeDate(std::stoi(text.substr(0, 4)), static_cast<unsigned>(std::stoi(text.substr(5, 2))),
                  static_cast<unsigned>(std::stoi(text.substr(8, 2))));
}

std::map<std::string, std::string> PartsOf(const std::string& rule) {
  std::map<std::string, std::string> parts;
  std::istringstream text(rule);
  for (std::string part; std::getline(text, part, ';');)
    parts[part.substr(0, part.find('='))] = part.substr(part.find('=') + 1);
  return parts;
}

// Days from one to the next; 0: the rule says something that no cadence of ours says.
int StepOf(std::map<std::string, std::string> parts) {
  for (const auto& [name, value] : parts) {
    if (name.starts_with("BY")) return 0;
  }
  const int interval = parts.contains("INTERVAL") ? std::stoi(parts["INTERVAL"]) : 1;
  if (parts["FREQ"] == "DAILY") return interval;
  return parts["FREQ"] == "WEEKLY" ? 7 * interval : 0;
}

std::vector<Date> DatesIn(const std::string& cell) {
  std::vector<Date> dates;
  std::istringstream text(cell);
  for (std::string date; text >> date;) dates.push_back(DateIn(date));
  return dates;
}

// The days of a perfect keeper of a wheel whose only care begins on that day.
std::vector<Date> DaysOf(int step, Date first, std::size_t count) {
  const auto at = [](Date day, int hour) { return Instant{(day + hours{hour}).time_since_epoch()}; };
  const Date made = first - days{1};
  WheelHistory wheel;
  wheel.plans.push_back({std::make_shared<const Plan>(Always({Every(step, {kTurn})})), at(made, 8), "plan"});
  wheel.starts.push_back({"made", StartKind::kMade, made, at(made, 8), false});
  wheel.entered = at(made, 8);
  std::vector<Date> dates;
  const CareCalendar calendar{{Zone{}, 4}, {}, {}};
  for (const Ahead& ahead : LookAhead(wheel, calendar, at(made, 12), step * static_cast<int>(count) + 2, count))
    dates.push_back(ahead.day);
  return dates;
}

TEST_CASE("every so many days and weeks fall on the dates that the calendar standard prints") {
  int checked = 0;
  for (const Row& row : ReadTable("rrule_dst.csv")) {
    if (row.at("kind") != "rrule") continue;
    const int step = StepOf(PartsOf(row.at("rule")));
    if (step == 0) continue;
    const std::vector<Date> expected = DatesIn(row.at("expected"));
    INFO(row.at("id") << " " << row.at("rule"));
    CHECK(DaysOf(step, expected.front(), expected.size()) == expected);
    ++checked;
  }
  CHECK(checked >= 7);
}

}  // namespace
}  // namespace rindwatch::rules
