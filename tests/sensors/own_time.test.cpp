#include "sensors/own_time.hpp"

#include <limits>
#include <string>

#include "tests/catch.hpp"

using namespace rindwatch::sensors;
using rindwatch::rules::FromMillis;
using rindwatch::rules::ToMillis;

namespace {

std::int64_t MillisOf(const std::string& text) {
  const auto at = OwnTimeFromText(text);
  REQUIRE(at);
  return ToMillis(*at);
}

}  // namespace

// RFC 3339, section 5.8: the first four examples; the instants were computed with GNU date.
TEST_CASE("the examples of RFC 3339 are read") {
  CHECK(MillisOf("1985-04-12T23:20:50.52Z") == 482'196'050'520);
  CHECK(MillisOf("1996-12-19T16:39:57-08:00") == 851'042'397'000);
  CHECK(MillisOf("1990-12-31T23:59:60Z") == 662'688'000'000);  // a leap second: the next minute's first
  CHECK(MillisOf("1990-12-31T15:59:60-08:00") == 662'688'000'000);
  CHECK(MillisOf("1937-01-01T12:00:27.87+00:20") == -1'041'337'172'130);
}

TEST_CASE("offsets, separators and fractions come in several shapes") {
  const auto text = GENERATE(as<std::string>{}, "2025-11-25T07:30:00Z", "2025-11-25t07:30:00z", "2025-11-25 07:30:00Z",
                             "2025-11-25T08:30:00+01:00", "2025-11-25T08:30:00+0100", "2025-11-25T08:30:00+01",
                             "2025-11-24T23:30:00-08:00", "2025-11-25T07:30:00.000000Z", "2025-11-25T07:30:00,0Z");
  INFO(text);
  CHECK(MillisOf(text) == 1'764'055'800'000);
  CHECK(MillisOf("2025-11-25T07:30:00.1239Z") == 1'764'055'800'123);
}

TEST_CASE("what is no instant gives none") {
  const auto text = GENERATE(
      as<std::string>{}, "", "now", "2025-11-25", "2025-11-25T07:30:00", "2025-11-25T07:30Z", "2025-13-25T07:30:00Z",
      "2025-02-29T07:30:00Z", "2025-11-25T24:00:00Z", "2025-11-25T07:60:00Z", "2025-11-25T07:30:61Z",
      "2025-11-25T07:30:00+24:00", "2025-11-25T07:30:00+01:60", "2025-11-25T07:30:00+1", "2025-11-25T07:30:00ZZ",
      "2025-11-25T07:30:00.Z", "25-11-25T07:30:00Z", "2025-11-25T07:30:00+01:", "07:30:00", "1e300", "nan");
  INFO(text);
  CHECK_FALSE(OwnTimeFromText(text));
}

TEST_CASE("a number is seconds until it is so large that it must be milliseconds") {
  CHECK(OwnTimeFromNumber(1'764'055'800) == FromMillis(1'764'055'800'000));
  CHECK(OwnTimeFromNumber(1'764'055'800.123) == FromMillis(1'764'055'800'123));
  CHECK(OwnTimeFromNumber(1'764'055'800'123.0) == FromMillis(1'764'055'800'123));
  CHECK(OwnTimeFromNumber(0) == FromMillis(0));
  CHECK(OwnTimeFromNumber(99'999'999'999.0) == FromMillis(99'999'999'999'000));
  CHECK(OwnTimeFromNumber(100'000'000'000.0) == FromMillis(100'000'000'000));
  CHECK_FALSE(OwnTimeFromNumber(1e300));
  CHECK_FALSE(OwnTimeFromNumber(-1e300));
  CHECK_FALSE(OwnTimeFromNumber(std::numeric_limits<double>::infinity()));
  CHECK_FALSE(OwnTimeFromNumber(std::numeric_limits<double>::quiet_NaN()));
}
