// What a replay says to the keeper: every number at none, one, two and many.
#include "daemon/replay/sentences.hpp"

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

const Words& kWords = Words::English();

struct Told {
  int then = 0, now = 0;
  Retold real{};
  std::map<std::string, Retold> called{};
  Retold unsaid{};
  int fresh = 0;
};

std::string Said(const Told& told, const std::string& span = "the last three months") {
  ReplayReport report;
  Rung rang;
  rang.severity = rules::Severity::kAct;
  report.then.assign(static_cast<std::size_t>(told.then), rang);
  report.now.assign(static_cast<std::size_t>(told.now), rang);
  report.compared = {told.real, told.called, told.unsaid, told.fresh};
  return ReplaySentence(kWords, report, span);
}

TEST_CASE("how often other limits would have rung is said beside how often it rang") {
  const std::vector<std::tuple<int, int, std::string>> table{
      {0, 0, "With these limits nothing would have rung in the last three months, and nothing did without them."},
      {1, 0, "With these limits nothing would have rung in the last three months. Without them it rang once."},
      {2, 0, "With these limits nothing would have rung in the last three months. Without them it rang twice."},
      {7, 0, "With these limits nothing would have rung in the last three months. Without them it rang 7 times."},
      {0, 1, "With these limits the last three months would have rung once. Without them nothing rang."},
      {0, 2, "With these limits the last three months would have rung twice. Without them nothing rang."},
      {0, 9, "With these limits the last three months would have rung 9 times. Without them nothing rang."},
      {1, 1, "With these limits the last three months would have rung once, as without them."},
      {2, 2, "With these limits the last three months would have rung twice, as without them."},
      {5, 5, "With these limits the last three months would have rung 5 times, as without them."},
      {2, 1, "With these limits the last three months would have rung once instead of twice."},
      {1, 2, "With these limits the last three months would have rung twice instead of once."},
      {4, 1, "With these limits the last three months would have rung once instead of 4 times."},
      {31, 2, "With these limits the last three months would have rung twice instead of 31 times."},
      {1, 3, "With these limits the last three months would have rung 3 times instead of once."},
      {2, 3, "With these limits the last three months would have rung 3 times instead of twice."},
      {31, 4, "With these limits the last three months would have rung 4 times instead of 31."},
  };
  for (const auto& [then, now, said] : table) CHECK(Said({.then = then, .now = now}) == said);
  CHECK(Said({.then = 31, .now = 4}, "") == "With these limits it would have rung 4 times instead of 31.");
  CHECK(Said({.then = 1}, "") == "With these limits nothing would have rung. Without them it rang once.");
}

TEST_CASE("fewer bells that ring for longer are said to do so") {
  const auto rang = [](int hours) {
    Rung rung;
    rung.severity = rules::Severity::kAct;
    rung.over = rung.raised + std::chrono::hours{hours};
    return rung;
  };
  ReplayReport report;
  report.to = rules::Instant{} + std::chrono::days{30};
  report.then = {rang(2), rang(3)};
  report.now = {rang(31)};
  CHECK(ReplaySentence(kWords, report, "")
            .ends_with("once instead of twice. Fewer, but longer: 31 h in all, instead of 5 h."));
  report.now = {rang(4)};
  CHECK(ReplaySentence(kWords, report, "").ends_with("once instead of twice."));
}

// What follows "With these limits the last day would have rung".
std::string After(const Told& told) {
  const std::string said = Said(told, "the last day"), begin = "With these limits the last day would have rung ";
  return said.starts_with(begin) ? said.substr(begin.size()) : said;
}

TEST_CASE("whether other limits would have rung for what was real is said for one, both, all, some and none") {
  const std::vector<std::tuple<Retold, std::string>> table{
      {{1, 1}, "3 times instead of 9, and rung for the one that you called real."},
      {{2, 2}, "3 times instead of 9, and rung for both that you called real."},
      {{3, 3}, "3 times instead of 9, and rung for all 3 that you called real."},
      {{1, 0}, "3 times instead of 9, but not for the one that you called real."},
      {{2, 0}, "3 times instead of 9, but for neither of the two that you called real."},
      {{3, 0}, "3 times instead of 9, but for none of the 3 that you called real."},
      {{2, 1}, "3 times instead of 9, but only for 1 of the 2 that you called real."},
      {{5, 3}, "3 times instead of 9, but only for 3 of the 5 that you called real."},
  };
  for (const auto& [real, said] : table) CHECK(After({.then = 9, .now = 3, .real = real}) == said);
  const auto quiet = [](int real) { return Said({.then = 9, .real = {real, 0}}, ""); };
  CHECK(quiet(1) ==
        "With these limits nothing would have rung, not even for the one that you called real. Without them it rang 9 "
        "times.");
  CHECK(quiet(2) ==
        "With these limits nothing would have rung, not even for the two that you called real. Without them it rang 9 "
        "times.");
  CHECK(quiet(4) ==
        "With these limits nothing would have rung, not even for the 4 that you called real. Without them it rang 9 "
        "times.");
}

std::string OfDoors(const Retold& doors) {
  const std::string said = After({.then = 9, .now = 3, .called = {{"door", doors}}}), begin = "3 times instead of 9.";
  REQUIRE(said.starts_with(begin));
  return said.substr(begin.size());
}

TEST_CASE("for what was called otherwise it says how many would still have rung and how many not") {
  CHECK(OfDoors({0, 0}).empty());
  CHECK(OfDoors({1, 0}) == " It would have kept quiet about the one that you called a door.");
  CHECK(OfDoors({2, 0}) == " It would have kept quiet about both that you called a door.");
  CHECK(OfDoors({4, 0}) == " It would have kept quiet about all 4 that you called a door.");
  CHECK(OfDoors({2, 1}) == " It would have kept quiet about 1 of the 2 that you called a door.");
  CHECK(OfDoors({4, 1}) == " It would have kept quiet about 3 of the 4 that you called a door.");
  CHECK(OfDoors({1, 1}) == " It would still have rung for the one that you called a door.");
  CHECK(OfDoors({2, 2}) == " It would still have rung for both that you called a door.");
  CHECK(OfDoors({4, 4}) == " It would still have rung for all 4 that you called a door.");
}

TEST_CASE("every word of the keeper has its place in the sentence, and so has what nobody named") {
  CHECK(
      Said({.then = 9,
            .now = 4,
            .real = {1, 1},
            .called = {{"defrost", {1, 0}}, {"delivery", {2, 0}}, {"door", {2, 2}}, {"other", {1, 0}}},
            .unsaid = {2, 1}},
           "") ==
      "With these limits it would have rung 4 times instead of 9, and rung for the one that you called real. It would "
      "have kept quiet about the one that you called a defrost, both that you called warm wheels, the one that you "
      "called something else and 1 of the 2 that nobody named. It would still have rung for both that you called a "
      "door.");
  CHECK(After({.then = 1, .now = 1, .called = {{"test", {1, 1}}}}) ==
        "once, as without them. It would still have rung for the one that you called \"test\".");
  for (const char* what : {"door", "defrost", "delivery", "plant", "probe", "power", "shut", "fan", "rinds", "other"}) {
    CAPTURE(what);
    CHECK(kWords.Has(std::string("what.") + what));
    CHECK(kWords.Has(std::string("replay.called.") + what));
  }
}

TEST_CASE("what would ring where nothing rang is said, so that the numbers add up") {
  CHECK(
      After({.then = 1, .now = 1, .unsaid = {1, 0}, .fresh = 1}) ==
      "once, as without them. It would have kept quiet about the one that nobody named. It would have rung once where "
      "nothing rang without them.");
  CHECK(
      After({.then = 1, .now = 3, .unsaid = {1, 1}, .fresh = 2}) ==
      "3 times instead of once. It would still have rung for the one that nobody named. It would have rung twice where "
      "nothing rang without them.");
  CHECK(After({.then = 0, .now = 3, .fresh = 3}) == "3 times. Without them nothing rang.");
}

TEST_CASE("a tally is told with each number at its word") {
  CHECK(TallySentence(kWords, {}) == "Nothing rang.");
  CHECK(TallySentence(kWords, {.rang = 1, .unsaid = 1}) == "It rang once: 1 that nobody named.");
  CHECK(TallySentence(kWords, {.rang = 2, .real = 2}) == "It rang twice: 2 real.");
  CHECK(TallySentence(kWords, {.rang = 4, .real = 2, .called = {{"door", 1}, {"test", 1}}}) ==
        "It rang 4 times: 2 real, 1 door, 1 test.");
}

TEST_CASE("a span is told in days, from two months on in months") {
  using std::chrono::days;
  CHECK(SpanWord(kWords, rules::Millis{0}) == "the last day");
  CHECK(SpanWord(kWords, days{1}) == "the last day");
  CHECK(SpanWord(kWords, days{2}) == "the last 2 days");
  CHECK(SpanWord(kWords, std::chrono::hours{12 * 24 + 10}) == "the last 12 days");
  CHECK(SpanWord(kWords, days{45}) == "the last 45 days");
  CHECK(SpanWord(kWords, days{61}) == "the last two months");
  CHECK(SpanWord(kWords, days{90}) == "the last three months");
  CHECK(SpanWord(kWords, days{365}) == "the last twelve months");
}

}  // namespace
}  // namespace rindwatch
