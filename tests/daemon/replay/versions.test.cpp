// Which version of the rules decided what, and what a replay by another one says of it. Journals made by hand.
#include "daemon/replay/versions.hpp"

#include "daemon/replay/report_json.hpp"
#include "daemon/replay/sentences.hpp"
#include "rules/alarms/version.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/replay/hand_made.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::Instant;

constexpr int kNow = rules::kRulesVersion, kBefore = rules::kRulesVersion - 1;

JournalLine Start(rules::Millis at, std::optional<int> version) {
  json::object body{{"watched_until", nullptr}};
  if (version) body["rules"] = *version;
  return OwnLine("started", "started", std::move(body), kThursday + at);
}
RulesTold Told(const std::vector<std::pair<rules::Millis, std::optional<int>>>& starts) {
  RulesTold told;
  for (const auto& [at, version] : starts) told.Take(Start(at, version));
  return told;
}
std::vector<RulesSpan> Day(const RulesTold& told) { return told.Others(kThursday, kThursday + 24h); }

TEST_CASE("each start says by which version of the rules all is decided until the next") {
  CHECK(Day(Told({{0h, kNow}, {5h, kNow}})).empty());
  CHECK(Day(Told({{0h, kBefore}, {5h, kNow}})) == std::vector<RulesSpan>{{kBefore, kThursday, kThursday + 5h}});
  // Starts of one version are one span; those that do not say it are of none.
  CHECK(Day(Told({{0h, {}}, {2h, {}}, {5h, kBefore}, {6h, kBefore}, {7h, kNow}})) ==
        std::vector<RulesSpan>{{{}, kThursday, kThursday + 5h}, {kBefore, kThursday + 5h, kThursday + 7h}});
  // Before the span, after it, and from its middle to its end.
  CHECK(Day(Told({{-9h, kBefore}, {-3h, kNow}, {26h, kBefore}})).empty());
  CHECK(Day(Told({{-9h, kNow}, {20h, kBefore}, {26h, kNow}})) ==
        std::vector<RulesSpan>{{kBefore, kThursday + 20h, kThursday + 24h}});
  // What was before the first start, as in a book that lost its begin, was as that one.
  CHECK(Day(Told({{3h, kBefore}})) == std::vector<RulesSpan>{{kBefore, kThursday, kThursday + 24h}});
  CHECK(Day(RulesTold{}).empty());
}

TEST_CASE("a clock that was set back leaves the newer start its time") {
  CHECK(Day(Told({{0h, kBefore}, {9h, kBefore}, {4h, kNow}})) ==
        std::vector<RulesSpan>{{kBefore, kThursday, kThursday + 4h}});
}

TEST_CASE("what differs is told apart by who decided it: other rules, or those that replay") {
  HandMadeJournal journal;
  journal.Starts(1ms, kBefore);
  journal.Rings(1h, 2h, 1);
  journal.Rings(9h, 12h, 2);  // raised by the rules of before, over by those of now
  journal.Starts(10h, kNow);
  journal.Rings(11h, 13h, 3);
  const ReplayReport report = journal.ReplayedOver(0h, 24h);
  CHECK(report.differences.size() == 6);
  CHECK(report.by_other_rules.size() == 4);
  const auto bare = report.BareDifferences();
  REQUIRE(bare.size() == 2);
  for (const std::string& line : bare) CHECK(line.find("too-warm-3-") == 0);
  CHECK(report.other_rules == std::vector<RulesSpan>{{kBefore, report.from, kThursday + 10h}});

  const json::object all = ReportJson(report, false);
  const json::object& rules = all.at("rules").as_object();
  CHECK(rules.at("version") == kNow);
  REQUIRE(rules.at("others").as_array().size() == 1);
  CHECK(rules.at("others").as_array()[0] ==
        json::value{{"from", ToMillis(report.from)}, {"until", ToMillis(kThursday + 10h)}, {"version", kBefore}});
  CHECK_FALSE(all.at("identical").as_bool());
  CHECK(all.at("differences").as_array().size() == 6);
  CHECK(all.at("differences_by_other_rules").as_array().size() == 4);
}

TEST_CASE("a journal of one version that differs has no such excuse") {
  HandMadeJournal journal;
  journal.Starts(1ms, kNow);
  journal.Rings(1h, 2h);
  const ReplayReport report = journal.ReplayedOver(0h, 24h);
  CHECK(report.by_other_rules.empty());
  CHECK(report.BareDifferences().size() == 2);
  CHECK(RulesSentence(Words::English(), report, Vienna()).empty());
}

std::string Said(const std::vector<RulesSpan>& others) {
  ReplayReport report;
  report.from = kThursday;
  report.to = kThursday + 24h;
  report.other_rules = others;
  return RulesSentence(Words::English(), report, Vienna());
}

TEST_CASE("who decided what differs is said with the time until which, and what is not known as that") {
  const std::string now =
      " Here they are version " + std::to_string(kNow) + "; these lines, which differ, may come of that:";
  const Instant from = kThursday, to = kThursday + 24h, middle = kThursday + 5h, later = kThursday + 7h;
  CHECK(Said({{15, from, middle}}) == "Until 2026-03-12 14:00 the rules were version 15." + now);
  CHECK(Said({{15, middle, later}}) == "From 2026-03-12 14:00 to 2026-03-12 16:00 the rules were version 15." + now);
  CHECK(Said({{15, middle, to}}) == "Since 2026-03-12 14:00 the rules were version 15." + now);
  CHECK(Said({{15, from, to}}) == "All this time the rules were version 15." + now);
  CHECK(Said({{{}, from, middle}, {15, middle, later}}) ==
        "Until 2026-03-12 14:00 the journal does not say which version the rules were. From 2026-03-12 14:00 to "
        "2026-03-12 16:00 the rules were version 15." +
            now);
  for (const char* when : {"until", "since", "between", "throughout"}) {
    CAPTURE(when);
    CHECK(Words::English().Has(std::string("replay.rules.") + when));
    CHECK(Words::English().Has(std::string("replay.rules.") + when + ".unsaid"));
  }
  CHECK(Said({}).empty());
}

}  // namespace
}  // namespace rindwatch
