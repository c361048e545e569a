#include "daemon/plans/words.hpp"

#include <algorithm>
#include <regex>
#include <sstream>

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

const rules::Plan& Pressed() { return *rules::PlanFromLibrary("pressed-semi-hard"); }

TEST_CASE("every plan of the library is shown in 72 columns and without a key of the words") {
  // A key without a text is said as it is.
  const std::regex key(R"re(\b(shown|change|cadence|care|plans|wheel|since)\.[a-z])re");
  for (const rules::Plan& plan : rules::PlanLibrary()) {
    const std::string text = PlanWords(Words::English(), plan);
    INFO(text);
    CHECK(text.starts_with(plan.family + " (" + plan.id + ", version 1)\n"));
    CHECK(!std::regex_search(text, key));
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      // Signs, not bytes.
      const auto signs = std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xc0) != 0x80; });
      CHECK(signs <= 72);
    }
  }
}

TEST_CASE("a plan is shown part by part, with its questions and its roads") {
  const std::string text = PlanWords(Words::English(), Pressed());
  CHECK(text.find("From the day it came into the box. \"Dry to the touch?\" is asked from") != std::string::npos);
  CHECK(text.find("  first week: days 1 to 7, rind forming\n"
                  "    12 to 13 °C (10.5 to 14.5 tolerated), 85 % (80 to 90 tolerated)\n"
                  "    wash, turn: daily, 3 to 5 g of salt in 100 g\n") != std::string::npos);
  // A caution is said once, where it is first needed.
  const std::string caution = "! Mix it fresh for each round";
  CHECK(text.find(caution) != std::string::npos);
  CHECK(text.find(caution) == text.rfind(caution));
  CHECK(text.find("  eat young, ready 21 to 60 days:\n    eaten young: days 22 to 60, ready\n") != std::string::npos);
}

TEST_CASE("alternate kinds are shown in the order in which they are asked") {
  const std::string text = PlanWords(Words::English(), *rules::PlanFromLibrary("italian-style-pressed"));
  CHECK(text.find("    salt, then brush, turn: daily\n") != std::string::npos);
}

}  // namespace
}  // namespace rindwatch
