// Quarter hours of air gathered into keeper's days.
#include "daemon/api/air_days.hpp"

#include <algorithm>

#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace std::chrono_literals;
using rules::Date;
using rules::Instant;

const rules::DayTurn kTurn{{}, 4};  // UTC
constexpr Date kDay = rules::MakeDate(2026, 3, 12);

Instant At(rules::Millis since_start) { return kTurn.StartOf(kDay) + since_start; }

// One mean for each quarter hour of the span.
void Fill(std::vector<Bucket>& quarters, rules::Millis from, rules::Millis to, double mean) {
  for (rules::Millis at = from; at < to; at += kQuarterHour) quarters.push_back({At(at), 1, mean, mean, mean});
}

std::vector<rules::DayOfAir> Days(const std::vector<Bucket>& quarters, int days = 1, Instant now = At(24h * 30)) {
  return DaysOfAir(quarters, kTurn, kDay, kDay + std::chrono::days{days - 1}, now);
}

TEST_CASE("a day that is recorded throughout has no silence, and its least quarter hour") {
  std::vector<Bucket> quarters;
  Fill(quarters, 0h, 10h, 12);
  Fill(quarters, 10h, 10h + 15min, 1.2);
  Fill(quarters, 10h + 15min, 24h, 11);
  const auto days = Days(quarters);
  REQUIRE(days.size() == 1);
  CHECK(days[0].day == kDay);
  CHECK(days[0].low == rules::Celsius{1.2});
  CHECK(days[0].longest_silence == 0min);
}

TEST_CASE("the longest silence is counted, at the ends of the day too") {
  std::vector<Bucket> quarters;
  Fill(quarters, 1h, 20h, 12);
  Fill(quarters, 22h, 23h + 30min, 12);
  CHECK(Days(quarters)[0].longest_silence == 2h);
  quarters.clear();
  Fill(quarters, 3h, 24h, 12);
  CHECK(Days(quarters)[0].longest_silence == 3h);
  quarters.clear();
  Fill(quarters, 0h, 19h, 12);
  CHECK(Days(quarters)[0].longest_silence == 5h);
}

TEST_CASE("a wheel follows its air: a short frost does not reach it, and it stays cold when the air is warm again") {
  std::vector<Bucket> quarters;
  Fill(quarters, 0h, 24h, 8);
  Fill(quarters, 24h, 25h, 0.5);
  Fill(quarters, 25h, 48h, 8);
  Fill(quarters, 48h, 72h, 0.5);
  Fill(quarters, 72h, 96h, 8);
  const auto two_kilos = FeltBy(rules::Grams{2000}, quarters);
  const auto mean_at = [&](rules::Millis at) { return std::ranges::find(two_kilos, At(at), &Bucket::from)->mean; };
  CHECK(mean_at(12h) == Approx(8));
  CHECK(mean_at(25h) > 5);
  CHECK(mean_at(71h) == Approx(0.5).margin(0.2));
  CHECK(mean_at(72h + 15min) < 1.7);
  CHECK(mean_at(95h) == Approx(8).margin(0.2));
  const auto small = FeltBy(rules::Grams{250}, quarters);
  CHECK(std::ranges::find(small, At(25h), &Bucket::from)->mean < mean_at(25h));
}

TEST_CASE("after a silence a wheel is the colder of what it was and what the air is") {
  std::vector<Bucket> quarters;
  Fill(quarters, 0h, 24h, 2);
  Fill(quarters, 30h, 31h, 9);
  Fill(quarters, 40h, 41h, 1);
  const auto felt = FeltBy(rules::Grams{2000}, quarters);
  CHECK(std::ranges::find(felt, At(30h), &Bucket::from)->mean == Approx(2));
  CHECK(std::ranges::find(felt, At(40h), &Bucket::from)->mean == Approx(1));
}

TEST_CASE("a day without a reading is left out; each day stands by itself") {
  std::vector<Bucket> quarters;
  Fill(quarters, 0h, 24h, 12);
  Fill(quarters, 48h, 72h, 9);
  const auto days = Days(quarters, 3);
  REQUIRE(days.size() == 2);
  CHECK(days[1].day == kDay + std::chrono::days{2});
  CHECK(days[1].low == rules::Celsius{9});
  CHECK(days[1].longest_silence == 0min);
}

TEST_CASE("what two probes tell in any order is one day, and the lower of them counts") {
  std::vector<Bucket> quarters;
  Fill(quarters, 12h, 24h, 3);
  Fill(quarters, 0h, 14h, 12);
  const auto days = Days(quarters);
  REQUIRE(days.size() == 1);
  CHECK(days[0].low == rules::Celsius{3});
  CHECK(days[0].longest_silence == 0min);
}

TEST_CASE("what is left of today is no silence") {
  std::vector<Bucket> quarters;
  Fill(quarters, 0h, 5h, 12);
  CHECK(Days(quarters, 1, At(5h))[0].longest_silence == 0min);
  CHECK(Days(quarters, 1, At(6h))[0].longest_silence == 1h);
}

}  // namespace
}  // namespace rindwatch
