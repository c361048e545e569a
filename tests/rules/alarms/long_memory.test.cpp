// What is remembered of days and weeks.
#include "rules/alarms/long_memory.hpp"

#include <cmath>

#include "rules/alarms/archive.hpp"
#include "tests/catch.hpp"

namespace rindwatch::rules::watch {
namespace {

constexpr std::int64_t kHour = 490'000;  // some hour since the epoch

template <typename Memory>
Memory WrittenAndRead(Memory memory) {
  Writer writer;
  writer.Line("memory");
  memory.Describe(writer);
  const std::string text = writer.Take();
  Reader reader(text);
  Memory again;
  reader.Line("memory");
  again.Describe(reader);
  CHECK(reader.Ok());
  CHECK(reader.AtEnd());
  return again;
}

}  // namespace

TEST_CASE("the mean of a day is held against the week before it") {
  LongMean<24, 7> memory;
  for (std::int64_t hour = 0; hour < 24 * 8; ++hour) memory.Add(kHour + hour, hour < 24 * 7 ? 12.0 : 13.0);
  CHECK(*memory.RecentMean() == Approx(13));
  CHECK(*memory.NormalMean() == Approx(12));
  CHECK(memory.NormalDays() == 7);
  const auto again = WrittenAndRead(memory);
  CHECK(*again.NormalMean() == *memory.NormalMean());
  CHECK(again.RecentCount() == memory.RecentCount());
}

TEST_CASE("the newest days of a normal can be left out") {
  LongMean<24, 10> memory;
  for (std::int64_t hour = 0; hour < 24 * 11; ++hour) memory.Add(kHour + hour, hour < 24 * 8 ? 2.0 : 1.0);
  CHECK(*memory.NormalMean(3) == Approx(2).margin(0.15));
  CHECK(*memory.NormalMean() < 1.9);
}

TEST_CASE("after a hole longer than all it holds the memory begins anew, and a clock put back changes nothing") {
  LongMean<12, 14> memory;
  for (std::int64_t hour = 0; hour < 200; ++hour) memory.Add(kHour + hour, 88);
  memory.RollTo(kHour + 100);
  CHECK(memory.RecentCount() == 12);
  memory.Add(kHour + 2000, 80);
  CHECK(*memory.RecentMean() == 80);
  CHECK_FALSE(memory.NormalMean());
}

TEST_CASE("the longest of 28 days is forgotten on the 29th") {
  DayMost most;
  most.Learn(20'000, 50);
  most.Learn(20'010, 30);
  CHECK(most.Longest(20'010) == 50);
  CHECK(most.Longest(20'027) == 50);
  CHECK(most.Longest(20'028) == 30);
  CHECK(most.Longest(20'040) == 0);
  CHECK(WrittenAndRead(most).Longest(20'010) == 50);
}

TEST_CASE("nine in ten of the minutes of a usual day lie below what is learned of it") {
  DaySpread spread;
  for (std::int64_t day = 100; day < 106; ++day) {
    for (int minute = 0; minute < 1440; ++minute) spread.Add(day, 12 + (minute % 100) / 100.0);
  }
  CHECK(*spread.UsualHigh() == Approx(12.9).margin(0.05));
  CHECK(*spread.UsualLow() == Approx(12.1).margin(0.05));
  CHECK(spread.Days() == 5);
  CHECK(*WrittenAndRead(spread).UsualHigh() == *spread.UsualHigh());
}

TEST_CASE("a spoiled day and one that was hardly heard teach nothing") {
  DaySpread spread;
  for (int minute = 0; minute < 1440; ++minute) spread.Add(100, 20);
  spread.SpoilToday();
  for (int minute = 0; minute < 600; ++minute) spread.Add(101, 15);
  spread.Add(102, 12);
  CHECK_FALSE(spread.UsualHigh());
}

TEST_CASE("the falls of a saw are measured, wherever its teeth are noisy") {
  FallingLegs legs;
  std::vector<double> rates;
  for (std::int64_t minute = 0; minute < 200; ++minute) {
    // Falls by 0.1 K a minute for 8 minutes and rises by 0.04 for 20.
    const std::int64_t within = minute % 28;
    const double value =
        within < 8 ? 12.8 - 0.1 * static_cast<double>(within) : 12.0 + 0.04 * static_cast<double>(within - 8);
    const double noise = minute % 2 ? 0.02 : -0.02;
    if (const auto rate = legs.Add(minute, value + noise)) rates.push_back(*rate);
  }
  REQUIRE(rates.size() >= 5);
  for (const double rate : rates) CHECK(rate == Approx(0.1).margin(0.02));
  CHECK(WrittenAndRead(legs).RisesSince() == legs.RisesSince());
}

}  // namespace rindwatch::rules::watch
