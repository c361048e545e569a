// The list as a whole: its golden texts, its subject, its width.
#include <fstream>
#include <sstream>

#include "tests/daemon/morning/mornings.hpp"

namespace rindwatch::morning {
namespace {

std::string Golden(const char* name) {
  std::ifstream file(std::string(RINDWATCH_SOURCE_DIR "/tests/daemon/morning/golden/") + name);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

TEST_CASE("the list of a morning with seven lines and a box that drifts") {
  CHECK(Text(Words::English(), Thursday()) == Golden("thursday.txt"));
}

TEST_CASE("the list of a morning on which nothing is due says so and what comes next") {
  CHECK(Text(Words::English(), Monday()) == Golden("monday.txt"));
}

TEST_CASE("the list of a morning with an alarm opens with it") {
  CHECK(Text(Words::English(), Saturday()) == Golden("saturday.txt"));
}

TEST_CASE("what began before the night stands apart from what began in it, with its day") {
  List list = Monday();
  list.night = {{At(29, 23, 5), "Fridge: too cold to 01:10."}};
  list.before = {{At(17, 9, 0), "Cellar: too dry to 16:40."}, {At(28, 14, 10), "Fridge: too warm to Sunday 02:00."}};
  list.caves.front().unknown = {{At(29, 14, 30), At(30, 2, 0)}};
  CHECK(Text(Words::English(), list) == Golden("monday-before.txt"));
  CHECK(BodyForPhone(Words::English(), list) == Golden("monday-before-phone.txt"));
}

TEST_CASE("the subject is the first line, alone") {
  CHECK(Subject(Words::English(), Monday()) == "Nothing to do today. Next: Tuesday, A1 and A2.");
  CHECK(Body(Words::English(), Monday()).starts_with("Monday 30 November, 06:30\n"));
}

TEST_CASE("of another day the list says which it is, and what is expected of it") {
  List list;
  list.day = MakeDate(2026, 12, 2);
  list.is_today = false;
  list.expected = true;
  CHECK(Text(Words::English(), list) ==
        "Subject: Nothing to do on Wednesday 2 December.\n\nWednesday 2 December\n\n"
        "Expected, if all is done until then.\n\nNothing to do on Wednesday 2 December.\n");
}

TEST_CASE("a day of another year, months away, has its year") {
  const Date today = MakeDate(2026, 11, 30);
  CHECK(FarDay(Words::English(), MakeDate(2028, 9, 17), today) == "Sunday 17 September 2028");
  CHECK(FarDay(Words::English(), MakeDate(2027, 1, 10), today) == "Sunday 10 January");
}

TEST_CASE("a figure is never parted from its unit") {
  for (std::size_t width = 8; width < 60; ++width) {
    for (const std::string& line :
         Wrap("Air 15.9 °C, 70 %, 8000 ppm for 2 h 45 min; 16 g salt in 500 mL, a wheel of 2.5 kg", width)) {
      INFO(width << ": " << line);
      for (const char* unit : {"°C", "%", "ppm", "h", "min", "g", "mL", "kg"})
        CHECK_FALSE(
            (line == unit || line.starts_with(std::string(unit) + " ") || line.starts_with(std::string(unit) + ",")));
    }
  }
  CHECK(Unbroken("keep 93+ % for 2 h 45 min, 4 minutes, 3 grams") ==
        "keep 93+\u00a0% for 2\u00a0h\u00a045\u00a0min, 4 minutes, 3 grams");
}

TEST_CASE(
    "in the evening what is settled is left out; the changes on the way stay, and what is over since the last list") {
  List list = Saturday();
  for (Entry& entry : list.sections[1].entries) {
    if (entry.line) entry.line->state = rules::CareState::kDone;
  }
  std::erase_if(list.sections[1].entries, [](const Entry& entry) { return !entry.line; });
  const List left = LeftOf(list);
  REQUIRE(left.sections.size() == 3);
  CHECK(left.sections[0].change.empty());
  CHECK(left.sections[1].change == std::vector<Change>{Change::kGloves, Change::kCloth, Change::kWash});
  // What is over since the last list is news in the evening too.
  CHECK(left.night.size() == list.night.size());
  for (Section& section : list.sections) {
    for (Entry& entry : section.entries) {
      if (entry.line) entry.line->state = rules::CareState::kDone;
    }
  }
  CHECK(LeftOf(list).sections.size() == 4);
}

TEST_CASE("no row is wider than 72 characters, whatever the names") {
  List list = Saturday();
  list.alarms.front().cave = "The long vaulted cellar under the old dairy";
  list.caves.front().name = "Käsekeller unter der alten Scheune";
  for (Section& section : list.sections) {
    for (Entry& entry : section.entries) {
      if (!entry.line) continue;
      entry.line->place = "Brett ganz hinten";
      entry.line->kinds = {kWash, kTurn, kPat, kWeigh, kOil};
      entry.line->lot = "Sommer 2026, zweite Milch, Nordseite des Stalls";
      entry.line->reason = "Überraschung: " + std::string(90, 'x');
    }
  }
  const auto check = [](const std::string& body, std::size_t width) {
    std::istringstream text(body);
    for (std::string row; std::getline(text, row);) {
      INFO(row);
      CHECK(WidthOf(row) <= width);
      CHECK((row.empty() || row.back() != ' '));
    }
  };
  check(Body(Words::English(), list), 72);
  check(BodyForPhone(Words::English(), list), 38);
}

TEST_CASE("on a phone the list says the same in fewer columns") {
  for (const List& list : {Thursday(), Monday(), Saturday()}) {
    const auto words_of = [](const std::string& text) {
      std::istringstream stream(text);
      std::multiset<std::string> all{std::istream_iterator<std::string>(stream), {}};
      all.erase("======");
      return all;
    };
    CHECK(words_of(BodyForPhone(Words::English(), list)) == words_of(Body(Words::English(), list)));
  }
  CHECK(BodyForPhone(Words::English(), Saturday()) == Golden("saturday-phone.txt"));
}

TEST_CASE("a subject is at most as long as a list of messages shows, and loses whole parts, the last first") {
  CHECK(ShortSubject("Fridge too warm since 15:06, 2 h. 13.4 °C, keep 6.5 to 13.5.") ==
        "Fridge too warm since 15:06, 2 h. 13.4 °C, keep 6.5 to 13.5.");
  const std::string urgent =
      "Urgent, still not taken: Fridge too warm since Fri 27 15:06, 7 h 50 min. 13.4 °C, 12.4 °C by "
      "the last reading, back within 6.5 to 13.5 since 22:54.";
  CHECK(ShortSubject(urgent) ==
        "Urgent, still not taken: Fridge too warm since Fri 27 15:06, 7 h 50 min. 13.4 °C, 12.4 °C by the last "
        "reading.");
  CHECK(ShortSubject(std::string(90, 'a') + ". " + std::string(90, 'b') + ", c.") == std::string(90, 'a') + ".");
  CHECK(ShortSubject(std::string(130, 'a')) == std::string(130, 'a'));
}

}  // namespace
}  // namespace rindwatch::morning
