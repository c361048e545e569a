// Which span is gone through: of what was kept.
#include "daemon/replay/span.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// In March 2026, of UTC.
rules::Instant At(unsigned day, int hour, int minute) {
  const std::chrono::sys_days date{std::chrono::year{2026} / 3 / day};
  return rules::Instant{date} + std::chrono::hours{hour} + std::chrono::minutes{minute};
}

// Kept from the 1st to the 20th of March, in Vienna.
const rules::Instant kFirst = At(1, 10, 0), kLast = At(20, 11, 30);

ReplaySpan SpanOfAsked(const AskedSpan& asked) { return SpanOfDays(asked, kFirst, kLast, Vienna()); }
std::string Refused(const AskedSpan& asked) {
  try {
    SpanOfAsked(asked);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "";
}

TEST_CASE("without days a replay ends with the newest reading and begins so many days before") {
  const ReplaySpan span = SpanOfAsked({"", "", 7});
  CHECK(span.to == kLast + rules::Millis{1});
  CHECK(span.from == span.to - std::chrono::days{7});
}

TEST_CASE("days are the keeper's, from 04:00, and the last is the one before --to") {
  const ReplaySpan span = SpanOfAsked({"2026-03-05", "2026-03-06"});
  CHECK(span.from == At(5, 3, 0));
  CHECK(span.to == At(6, 3, 0));
}

TEST_CASE("a span that begins before the first reading or ends in the future is gone through as far as it goes") {
  CHECK(Refused({"2020-01-01", ""}).empty());
  CHECK(Refused({"2026-02-20", "2026-03-02"}).empty());
  CHECK(Refused({"2026-03-10", "2030-01-01"}).empty());
  // So many days back are counted from the newest reading, not from a day to come.
  CHECK(SpanOfAsked({"", "2030-01-01", 7}).from == kLast + rules::Millis{1} - std::chrono::days{7});
}

TEST_CASE("a span that is empty, upside down or of which nothing was kept is refused with the reason") {
  CHECK(Refused({"2026-03-06", "2026-03-05"}) ==
        "The span is upside down: --from 2026-03-06 lies after --to 2026-03-05.");
  CHECK(Refused({"2026-03-06", "2026-03-06"}) ==
        "The span is empty: --to is the day after the last, and --from and --to both say 2026-03-06.");
  CHECK(Refused({"2026-03-21", ""}) ==
        "Nothing of the span was kept: --from 2026-03-21 lies after the newest reading, of 2026-03-20 12:30.");
  CHECK(Refused({"", "2026-02-01"}) ==
        "Nothing of the span was kept: --to 2026-02-01 lies before the first reading, of 2026-03-01 11:00.");
  CHECK(Refused({"2026-01-01", "2026-02-01"}).find("lies before the first reading") != std::string::npos);
}

TEST_CASE("what is no day is refused with its option") {
  CHECK(Refused({"yesterday", ""}) == "--from: \"yesterday\" is no date; write one such as 2026-08-25.");
  CHECK(Refused({"", "2026-02-30"}) == "--to: \"2026-02-30\" is no date; write one such as 2026-08-25.");
}

}  // namespace
}  // namespace rindwatch
