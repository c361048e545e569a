// What a list says of the work of the day.
#include "tests/daemon/morning/mornings.hpp"

namespace rindwatch::morning {
namespace {

TEST_CASE("what is late for long is told with its date") {
  List list = Thursday();
  list.sections[1].entries[3].line->late_since = MakeDate(2026, 11, 16);
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("> was due Monday 16 November. Dusty? Mask\n") != std::string::npos);
}

TEST_CASE("a care of which the time is over is told as missed, and not as something to do") {
  Line salt;
  salt.place = "Box 1";
  salt.kinds = {CareKind::kSalt};
  salt.state = rules::CareState::kNotDone;
  CHECK(WhatWords(Words::English(), salt) == "not done; its stage is over");
}

TEST_CASE("a weight is said in grams, from a kilogram on in kilograms") {
  CHECK(WeightWords(250) == "250 g");
  CHECK(WeightWords(1500) == "1.5 kg");
  CHECK(WeightWords(2000) == "2 kg");
  CHECK(WeightWords(2310) == "2.31 kg");
  CHECK(WeightWords(10000) == "10 kg");
}

TEST_CASE("what may be done early is said as it is spoken") {
  List list = Monday();
  list.early.front().kinds = {kWash, kTurn};
  CHECK(Body(Words::English(), list).find("A2 may be washed and turned today; it is due") != std::string::npos);
}

TEST_CASE("lines say in words what was done of them, what is new and what it takes") {
  List list = Thursday();
  Line& line = *list.sections.front().entries.front().line;
  line.done_kinds = {kTurn};
  line.new_cadence = rules::NewCadence{rules::TimesAWeek{2}, true};
  list.sections.back().entries.front().line->two_people = true;
  Line& skipped = *list.sections.front().entries.back().line;
  skipped.state = rules::CareState::kSkipped;
  skipped.reason = "no paper";
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("  turned. From tomorrow twice a week") != std::string::npos);
  CHECK(text.find("  two people") != std::string::npos);
  CHECK(text.find("Box 1     (wrap)") != std::string::npos);
  CHECK(text.find("  no paper") != std::string::npos);
}

TEST_CASE("washes of other strength say for whom they are; those alike need not") {
  List list = Thursday();
  list.bring.washes = {{15, 361, {}, {"B1"}}, {30, 721, {{"cider", 72}}, {"W1", "W2", "W2", "W3", "W4"}}};
  CHECK(Body(Words::English(), list)
            .find("Bring     15 g salt in 361 mL: for B1; 30 g salt in 721 mL, 72 mL cider:\n"
                  "          for W1 to W4; all in boiled, cooled water, for today;\n") != std::string::npos);
}

TEST_CASE("a part of a shelf is told by its numbers, a lone wheel that is held by its family and day") {
  List list = Thursday();
  Line& part = *list.sections[1].entries[2].line;
  part.numbers = {7, 3, 4, 5, 9};
  Line& held = *list.sections.back().entries.front().line;
  held.lot.clear();
  held.family = "Washed rind";
  held.held = true;
  const std::string text = Body(Words::English(), list);
  CHECK(text.find("3 to 5, 7, 9: lot 214, day 26") != std::string::npos);
  CHECK(text.find("Washed rind, day 17, held") != std::string::npos);
}

}  // namespace
}  // namespace rindwatch::morning
