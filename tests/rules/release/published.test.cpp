// The counting against the least ages of 21 CFR part 133. Rows of the table that were not read in a copy of the text
// say so; they are checked for the arithmetic alone.
#include <regex>

#include "rules/release/qualifying.hpp"
#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"
#include "tests/rules/release/us_rule.hpp"

using namespace rindwatch::rules;

namespace {

// "60 days", "6 months", "1 year"; none: no least age.
std::optional<QualifyingRule> RuleOf(const Row& row) {
  std::smatch match;
  const std::string& text = row.at("min_age_text");
  if (!std::regex_match(text, match, std::regex("(\\d+) (days?|months?|years?)"))) return std::nullopt;
  QualifyingRule rule;
  rule.name = row.at("cheese") + ", " + text;
  const int count = std::stoi(match[1]);
  const std::string unit = match[2];
  if (unit.starts_with("day")) rule.min_days = count;
  if (unit.starts_with("month")) rule.min_months = count;
  if (unit.starts_with("year")) rule.min_months = 12 * count;
  if (!row.at("min_temp_F").empty()) rule.min_temperature = ToCelsius(Fahrenheit{NumberIn(row, "min_temp_F")});
  return rule;
}

}  // namespace

TEST_CASE("every least age of 21 CFR 133 can be typed as a rule and is reached on its day") {
  int days_rules = 0, month_rules = 0;
  for (const Row& row : ReadTable("us_cfr_133.csv")) {
    const auto rule = RuleOf(row);
    if (!rule) continue;
    INFO(rule->name);
    CHECK_FALSE(FaultOf(*rule));
    const Date made = MakeDate(2026, 1, 10);
    const auto days = (LawfulDate(*rule, made, {}) - made).count();
    if (rule->min_months == 0) {
      ++days_rules;
      CHECK(static_cast<double>(days) == NumberIn(row, "min_age_days"));
    } else {
      ++month_rules;
      // The day counts of the table take every month as 30 days.
      CHECK(static_cast<double>(days) >= NumberIn(row, "min_age_days"));
      CHECK(static_cast<double>(days) <= NumberIn(row, "min_age_days") + 6);
    }
    if (rule->min_temperature) {
      CHECK(rule->min_temperature->value * 3 == Approx(5.0).epsilon(1e-15));
      CHECK(rule->min_temperature == testing::UsSixtyDays().min_temperature);
    }
  }
  CHECK(days_rules >= 20);
  CHECK(month_rules >= 3);
}
