// The rates of an alarm system as the standards define them (tests/reference/alarm_practice.csv).
#include "rules/alarms/rates.hpp"

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

const Instant kBegin = FromMillis(1'772'431'200'000);

Told At(Millis since, std::optional<Millis> over = {}, std::string what = "") {
  Told told;
  told.what = what.empty() ? "alarm " + std::to_string(since.count()) : what;
  told.at = {kBegin + since};
  if (over) told.over = kBegin + *over;
  return told;
}

std::vector<Told> Many(int count, Millis from, Millis every) {
  std::vector<Told> told;
  for (int i = 0; i < count; ++i) told.push_back(At(from + i * every, from + i * every + hours{1}));
  return told;
}

TEST_CASE("one alarm each ten minutes is a rate of one, and 144 a day") {
  const AlarmRates rates = RatesOf(Many(144, minutes{5}, minutes{10}), kBegin, kBegin + days{1});
  CHECK(rates.per_ten_minutes == 1.0);
  CHECK(rates.per_day == 144.0);
  CHECK(rates.most_in_ten_minutes == 1);
  CHECK(rates.flooded_periods == 0);
  CHECK(rates.floods == 0);
}

TEST_CASE("ten alarms in ten minutes are no flood, eleven are one") {
  CHECK(RatesOf(Many(10, minutes{1}, seconds{50}), kBegin, kBegin + days{1}).floods == 0);
  const AlarmRates rates = RatesOf(Many(11, minutes{1}, seconds{50}), kBegin, kBegin + days{1});
  CHECK(rates.floods == 1);
  CHECK(rates.most_in_ten_minutes == 11);
  CHECK(rates.flooded_periods == Approx(100.0 / 144));
}

TEST_CASE("a flood ends when fewer than five were told in ten minutes") {
  // The eleventh comes after 500 s; the seventh leaves the window, and four stay, 600 s after 300 s.
  const AlarmRates rates = RatesOf(Many(11, Millis{0}, seconds{50}), kBegin, kBegin + days{1});
  CHECK(rates.flooded_time == Approx(100.0 * (300 + 600 - 500) / 86400));
  // It goes on as long as five are told in each ten minutes.
  std::vector<Told> told = Many(11, Millis{0}, seconds{50});
  const std::vector<Told> more = Many(20, minutes{10}, seconds{100});
  told.insert(told.end(), more.begin(), more.end());
  CHECK(RatesOf(told, kBegin, kBegin + days{1}).floods == 1);
}

TEST_CASE("thirty alarms in an hour are what a keeper can follow, thirty-one make it a busy one") {
  CHECK(RatesOf(Many(30, minutes{1}, seconds{115}), kBegin, kBegin + days{1}).busy_hours == 0);
  const AlarmRates rates = RatesOf(Many(31, minutes{1}, seconds{115}), kBegin, kBegin + days{1});
  CHECK(rates.busy_hours == Approx(100.0 / 24));
  CHECK(rates.flooded_periods == 0);  // nowhere more than ten in ten minutes
  // Hours are counted from the begin of the span: what falls into two of them is too much for neither.
  CHECK(RatesOf(Many(31, minutes{31}, seconds{115}), kBegin, kBegin + days{1}).busy_hours == 0);
  // The last hour may be cut off, and counts as one.
  CHECK(RatesOf(Many(31, minutes{61}, seconds{30}), kBegin, kBegin + minutes{90}).busy_hours == 50);
}

TEST_CASE("the ten most frequent alarms make up a share of all that was told") {
  // The first is told twelve times, the second eleven times ... the twelfth once: 78 in all, 75 by the first ten.
  std::vector<Told> told;
  for (int alarm = 0; alarm < 12; ++alarm) {
    for (int i = 0; i < 12 - alarm; ++i)
      told.push_back(At(hours{i} + minutes{alarm}, {}, "alarm " + std::to_string(alarm)));
  }
  CHECK(RatesOf(told, kBegin, kBegin + days{1}).ten_most_frequent == Approx(100.0 * 75 / 78));
  // What was told before the span counts neither here nor there: of the last hours only two are left.
  CHECK(RatesOf(told, kBegin + hours{10}, kBegin + days{1}).ten_most_frequent == 100);
  CHECK(RatesOf(std::vector<Told>{}, kBegin, kBegin + days{1}).ten_most_frequent == 0);
  // Each time that one alarm gets worse it is told anew, under the same name.
  std::vector<Told> worse{At(hours{1}, {}, "worse")};
  worse[0].at = {kBegin + hours{1}, kBegin + hours{2}, kBegin + hours{3}};
  for (int i = 0; i < 11; ++i) worse.push_back(At(hours{4}, {}, "other " + std::to_string(i)));
  CHECK(RatesOf(worse, kBegin, kBegin + days{1}).ten_most_frequent == Approx(100.0 * 12 / 14));
}

TEST_CASE("what is told three times within a minute chatters") {
  const std::vector<Told> twice{At(seconds{0}, seconds{10}, "a"), At(seconds{30}, seconds{40}, "a")};
  CHECK(RatesOf(twice, kBegin, kBegin + days{1}).chattering == 0);
  std::vector<Told> thrice = twice;
  thrice.push_back(At(seconds{60}, seconds{70}, "a"));
  CHECK(RatesOf(thrice, kBegin, kBegin + days{1}).chattering == 1);
  thrice.back() = At(seconds{61}, seconds{70}, "a");
  CHECK(RatesOf(thrice, kBegin, kBegin + days{1}).chattering == 0);
  thrice.back() = At(seconds{60}, seconds{70}, "b");
  CHECK(RatesOf(thrice, kBegin, kBegin + days{1}).chattering == 0);
}

TEST_CASE("what stands for more than a day is stale, and how many at one time are counted") {
  const std::vector<Told> told{At(hours{0}, hours{24}), At(hours{1}, hours{26}), At(hours{2}),
                               At(hours{60}, hours{86})};
  const AlarmRates rates = RatesOf(told, kBegin, kBegin + days{4});
  CHECK(rates.stale == 3);
  CHECK(rates.stale_most == 2);
}

TEST_CASE("what is over within a minute is fleeting") {
  CHECK(RatesOf({At(hours{1}, hours{1} + seconds{59})}, kBegin, kBegin + days{1}).fleeting == 1);
  CHECK(RatesOf({At(hours{1}, hours{1} + seconds{60})}, kBegin, kBegin + days{1}).fleeting == 0);
}

TEST_CASE("severities are told as shares of low, medium and high") {
  std::vector<Told> told = Many(20, Millis{0}, hours{1});
  for (int i = 0; i < 3; ++i) told[static_cast<std::size_t>(i)].severity = Severity::kAct;
  told[3].severity = Severity::kUrgent;
  told[4].severity = Severity::kHint;
  const AlarmRates rates = RatesOf(told, kBegin, kBegin + days{1});
  CHECK(rates.low == 80);
  CHECK(rates.medium == 15);
  CHECK(rates.high == 5);
}

TEST_CASE("of a span counts what was told in it, and what stood in it for more than a day") {
  const Instant from = kBegin + days{2}, to = kBegin + days{4};
  // Told before the span, over in it: it stood for long, and was not told anew.
  AlarmRates rates = RatesOf({At(hours{1}, days{3})}, from, to);
  CHECK(rates.told == 0);
  CHECK(rates.stale == 1);
  CHECK(rates.stale_most == 1);
  CHECK(rates.low == 0);
  // Over before the span, or told so late in it that it has not stood for a day at its end.
  CHECK(RatesOf({At(hours{1}, days{1} + hours{20})}, from, to).stale == 0);
  CHECK(RatesOf({At(days{3} + hours{1})}, from, to).stale == 0);
  CHECK(RatesOf({At(days{3} + hours{1}, days{9})}, from, to).stale == 0);
  CHECK(RatesOf({At(days{3} - minutes{1}, days{9})}, from, to).stale == 1);
  // Two that were stale one after the other, before the span even at one time.
  rates = RatesOf({At(hours{0}, days{2} + hours{1}), At(hours{1}, days{2} + hours{1}), At(days{2} + hours{2}, days{4})},
                  kBegin + days{2} + hours{1}, to);
  CHECK(rates.stale_most == 1);
  // What chattered, or was fleeting, before the span.
  std::vector<Told> thrice{At(seconds{0}, seconds{10}, "a"), At(seconds{20}, seconds{30}, "a"),
                           At(seconds{40}, seconds{50}, "a")};
  CHECK(RatesOf(thrice, kBegin, to).chattering == 1);
  CHECK(RatesOf(thrice, kBegin, to).fleeting == 3);
  rates = RatesOf(thrice, kBegin + seconds{15}, to);
  CHECK(rates.told == 2);
  CHECK(rates.chattering == 0);
  CHECK(rates.fleeting == 2);
}

TEST_CASE("nothing told, or an empty span, gives rates of nothing") {
  CHECK(RatesOf(std::vector<Told>{}, kBegin, kBegin + days{1}).per_day == 0);
  CHECK(RatesOf(Many(3, Millis{0}, hours{1}), kBegin, kBegin).told == 0);
}

}  // namespace
}  // namespace rindwatch::rules
