#include "rules/units.hpp"

#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/air/table.hpp"

namespace rindwatch::rules {

// Source: NIST SP 811 (2008), appendix B.8, exact.
TEST_CASE("Celsius and Fahrenheit convert exactly") {
  STATIC_REQUIRE(ToFahrenheit(Celsius{12}).value == 53.6);
  STATIC_REQUIRE(ToFahrenheit(Celsius{13}).value == 55.4);
  STATIC_REQUIRE(ToFahrenheit(Celsius{-40}).value == -40);
  STATIC_REQUIRE(ToCelsius(Fahrenheit{32}).value == 0);
  int pairs = 0;
  for (const Row& row : ReadTable("conversions.csv")) {
    const std::string from = row.at("from_unit");
    if (!from.ends_with(" F") || row.at("to_unit") != "C") continue;
    CAPTURE(from);
    const double fahrenheit = std::stod(from), celsius = std::stod(row.at("factor_or_rule"));
    const double printed = row.at("exact") == "yes" ? 1e-12 : 1e-8;  // repeating decimals stand with ten digits
    CHECK(std::abs(ToCelsius(Fahrenheit{fahrenheit}).value - celsius) <= printed * std::max(1.0, std::abs(celsius)));
    CHECK(std::abs(ToFahrenheit(Celsius{celsius}).value - fahrenheit) <= 2e-8 * std::max(1.0, std::abs(fahrenheit)));
    ++pairs;
  }
  CHECK(pairs > 20);
}

TEST_CASE("a difference of temperatures has no offset") {
  STATIC_REQUIRE((Celsius{14.5} - Celsius{13}).value == 1.5);
  STATIC_REQUIRE((Celsius{13} + Kelvins{1.5}) == Celsius{14.5});
  STATIC_REQUIRE((Celsius{13} - Kelvins{0.5}) < Celsius{13});
}

}  // namespace rindwatch::rules
