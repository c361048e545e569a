// Offsets as the IANA time zone database gives them. The instants of the changes are typed from memory of the rules:
// the European Union changes at 01:00 UTC on the last Sundays of March and October (directive 2000/84/EC); Lord Howe
// Island moves its clocks by half an hour, at 02:00 local time on the first Sundays of October and April.
#include "daemon/clock/zones.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/says.hpp"

namespace rindwatch {
namespace {

using namespace std::chrono_literals;
using rules::Instant;
using rules::LocalTime;
using rules::MakeDate;

Instant Utc(int year, unsigned month, unsigned day, std::chrono::milliseconds time) {
  return Instant{std::chrono::sys_days{std::chrono::year{year} / std::chrono::month{month} / std::chrono::day{day}}} +
         time;
}

LocalTime Local(int year, unsigned month, unsigned day, std::chrono::milliseconds time) {
  return LocalTime{MakeDate(year, month, day)} + time;
}

TEST_CASE("Vienna springs from two to three o'clock on 29 March 2026") {
  const rules::Zone vienna = LoadZone("Europe/Vienna");
  CHECK(vienna.Name() == "Europe/Vienna");
  const Instant change = Utc(2026, 3, 29, 1h);
  CHECK(vienna.ToLocal(change - 1ms) == Local(2026, 3, 29, 2h - 1ms));
  CHECK(vienna.ToLocal(change) == Local(2026, 3, 29, 3h));
  CHECK(vienna.ToInstant(Local(2026, 3, 29, 4h)) == Utc(2026, 3, 29, 2h));
  // A time that no clock shows is read with the offset before the change.
  CHECK(vienna.ToInstant(Local(2026, 3, 29, 2h + 30min)) == Utc(2026, 3, 29, 1h + 30min));
}

TEST_CASE("Vienna lives the hour from two to three twice on 25 October 2026; the first time counts") {
  const rules::Zone vienna = LoadZone("Europe/Vienna");
  CHECK(vienna.ToLocal(Utc(2026, 10, 25, 30min)) == Local(2026, 10, 25, 2h + 30min));
  CHECK(vienna.ToLocal(Utc(2026, 10, 25, 1h + 30min)) == Local(2026, 10, 25, 2h + 30min));
  CHECK(vienna.ToInstant(Local(2026, 10, 25, 2h + 30min)) == Utc(2026, 10, 25, 30min));
}

TEST_CASE("Lord Howe Island moves its clocks by half an hour") {
  const rules::Zone island = LoadZone("Australia/Lord_Howe");
  // Summer is UTC+11, winter UTC+10:30. In 2026 winter begins on 5 April and ends on 4 October.
  const Instant winter = Utc(2026, 4, 4, 15h);  // 02:00 of 5 April by summer time
  CHECK(island.ToLocal(winter - 1ms) == Local(2026, 4, 5, 2h - 1ms));
  CHECK(island.ToLocal(winter) == Local(2026, 4, 5, 1h + 30min));
  const Instant summer = Utc(2026, 10, 3, 15h + 30min);  // 02:00 of 4 October by winter time
  CHECK(island.ToLocal(summer - 1ms) == Local(2026, 10, 4, 2h - 1ms));
  CHECK(island.ToLocal(summer) == Local(2026, 10, 4, 2h + 30min));
}

TEST_CASE("a keeper's day that holds a change of the clock is 23 or 25 hours long") {
  const rules::DayTurn home{LoadZone("Europe/Vienna"), 2};
  const auto length = [&](rules::Date day) { return home.EndOf(day) - home.StartOf(day); };
  CHECK(length(MakeDate(2026, 3, 28)) == 24h);
  CHECK(length(MakeDate(2026, 3, 29)) == 23h);
  CHECK(length(MakeDate(2026, 10, 25)) == 25h);
}

TEST_CASE("a zone without changes has one offset for ever") {
  CHECK(LoadZone("UTC").Transitions().empty());
  CHECK(LoadZone("Asia/Kathmandu").ToLocal(Utc(2026, 1, 1, 0h)) == Local(2026, 1, 1, 5h + 45min));
}

TEST_CASE("transitions ascend, each with another offset than before it") {
  for (const char* name : {"Europe/Vienna", "Australia/Lord_Howe", "America/New_York", "Africa/Casablanca"}) {
    const rules::Zone zone = LoadZone(name);
    REQUIRE(zone.Transitions().size() > 10);
    auto before = zone.FirstOffset();
    Instant last = Instant::min();
    for (const auto& transition : zone.Transitions()) {
      if (transition.from <= last || transition.offset == before)
        FAIL(name << " at " << rules::ToText(transition.from));
      last = transition.from;
      before = transition.offset;
    }
  }
}

TEST_CASE("a zone that nobody knows is refused with what to write") {
  const std::string said = testing::WhatIsSaid([] { LoadZone("Europe/Atlantis"); });
  CHECK_THAT(said, testing::Says("Europe/Atlantis"));
  CHECK_THAT(said, testing::Says("such as Europe/Vienna"));
  CHECK_THAT(said, testing::Says("tzdata"));
}

TEST_CASE("the machine's own zone can be loaded") { CHECK_NOTHROW(LoadZone(MachineZoneName())); }

}  // namespace
}  // namespace rindwatch
