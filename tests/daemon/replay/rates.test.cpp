// The standard's rates of a journal made by hand: alarms per ten minutes, floods, stale and chattering ones as
// ANSI/ISA-18.2 and IEC 62682 define them (tests/reference/alarm_practice.csv).
#include "daemon/replay/report_json.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/replay/hand_made.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

class HandMade : public HandMadeJournal {
 public:
  json::object RatesOver(rules::Millis from, rules::Millis to) {
    return ReportJson(ReplayedOver(from, to), false).at("then").as_object().at("rates").as_object();
  }
};

double Figure(const json::object& rates, const char* name) { return rates.at(name).to_number<double>(); }

TEST_CASE("alarms are counted per ten minutes and per day, over the whole span") {
  HandMade journal;
  for (int i = 0; i < 72; ++i) journal.Rings(i * minutes{20}, i * minutes{20} + minutes{5});
  const json::object rates = journal.RatesOver(hours{0}, days{1});
  CHECK(Figure(rates, "told") == 72);
  CHECK(Figure(rates, "per_ten_minutes") == Approx(0.5));
  CHECK(Figure(rates, "per_day") == Approx(72));
  CHECK(Figure(rates, "most_in_ten_minutes") == 1);
  CHECK(Figure(rates, "floods") == 0);
  CHECK(Figure(rates, "flooded_time_percent") == 0);
}

TEST_CASE("more than ten in ten minutes are a flood, until fewer than five are told in ten") {
  HandMade ten, eleven;
  for (int i = 0; i < 11; ++i) {
    if (i < 10) ten.Rings(hours{1} + i * seconds{50}, hours{3}, i + 1);
    eleven.Rings(hours{1} + i * seconds{50}, hours{3}, i + 1);
  }
  CHECK(Figure(ten.RatesOver(hours{0}, days{1}), "floods") == 0);
  const json::object rates = eleven.RatesOver(hours{0}, days{1});
  CHECK(Figure(rates, "floods") == 1);
  CHECK(Figure(rates, "most_in_ten_minutes") == 11);
  CHECK(Figure(rates, "flooded_periods_percent") == Approx(100.0 / 144));
  // From the eleventh, after 500 s, until the seventh has left the window, after 300 s + 600 s.
  CHECK(Figure(rates, "flooded_time_percent") == Approx(100.0 * 400 / 86400));
}

TEST_CASE("what stands for more than a day is stale, also where it was raised before the span") {
  HandMade journal;
  journal.Rings(hours{0}, hours{24}, 1);   // a day to the instant: not more
  journal.Rings(hours{1}, hours{60}, 2);   // before the span and into it
  journal.Rings(hours{40}, hours{70}, 3);  // stale from hour 64 on, after the first is over
  journal.Rings(hours{50}, {}, 4);         // and one that goes on
  const json::object rates = journal.RatesOver(hours{48}, hours{96});
  CHECK(Figure(rates, "stale") == 3);
  CHECK(Figure(rates, "stale_most") == 1);  // the last becomes so at hour 74, after the other
  CHECK(Figure(rates, "told") == 1);
}

TEST_CASE("an alarm that comes three times within a minute chatters, and each that is over in one is fleeting") {
  HandMade journal;
  for (int i = 0; i < 3; ++i) journal.Rings(hours{1} + i * seconds{30}, hours{1} + i * seconds{30} + seconds{10}, 1);
  for (int i = 0; i < 3; ++i) journal.Rings(hours{2} + i * seconds{31}, hours{2} + i * seconds{31} + seconds{10}, 2);
  const json::object rates = journal.RatesOver(hours{0}, days{1});
  CHECK(Figure(rates, "chattering") == 1);
  CHECK(Figure(rates, "fleeting") == 6);
}

TEST_CASE("hours with more than thirty alarms, and what the ten most frequent make up, are shares too") {
  HandMade journal;
  // One cave in which it rings thirty-one times within the hour, and eleven others with one each, hours later.
  for (int i = 0; i < 31; ++i) journal.Rings(i * seconds{110}, i * seconds{110} + seconds{90}, 1);
  for (int i = 0; i < 11; ++i) journal.Rings(hours{5} + i * hours{1}, {}, 2 + i);
  const json::object rates = journal.RatesOver(hours{0}, days{1});
  CHECK(Figure(rates, "told") == 42);
  CHECK(Figure(rates, "busy_hours_percent") == Approx(100.0 / 24));
  CHECK(Figure(rates, "ten_most_frequent_percent") == Approx(100.0 * 40 / 42));
}

TEST_CASE("severities are shares of the alarms that were told") {
  HandMade journal;
  for (int i = 0; i < 16; ++i) journal.Rings(i * hours{1}, {}, 1, rules::Severity::kWatch);
  for (int i = 0; i < 3; ++i) journal.Rings(i * hours{1}, {}, 2, rules::Severity::kAct);
  journal.Rings(hours{1}, {}, 3, rules::Severity::kUrgent);
  const json::object rates = journal.RatesOver(hours{0}, days{1});
  CHECK(Figure(rates, "low_percent") == Approx(80));
  CHECK(Figure(rates, "medium_percent") == Approx(15));
  CHECK(Figure(rates, "high_percent") == Approx(5));
}

}  // namespace
}  // namespace rindwatch
