#include "sensors/mqtt/arrivals.hpp"

#include "tests/catch.hpp"

using rindwatch::sensors::Arrivals;
using std::chrono::milliseconds;
using std::chrono::seconds;

namespace {
const Arrivals::Time kStart{seconds{100}};
}

TEST_CASE("a topic is shown once a second") {
  Arrivals arrivals;
  CHECK(arrivals.IsDue("a", kStart));
  CHECK_FALSE(arrivals.IsDue("a", kStart + milliseconds{999}));
  CHECK(arrivals.IsDue("b", kStart + milliseconds{999}));
  CHECK(arrivals.IsDue("a", kStart + milliseconds{1000}));
  CHECK_FALSE(arrivals.IsDue("a", kStart + milliseconds{1999}));
}

TEST_CASE("more topics than fit wait for the next second") {
  Arrivals arrivals;
  for (std::size_t i = 0; i < Arrivals::kMostTopics; ++i) REQUIRE(arrivals.IsDue(std::to_string(i), kStart));
  CHECK_FALSE(arrivals.IsDue("one more", kStart + milliseconds{500}));
  CHECK(arrivals.IsDue("one more", kStart + seconds{1}));
}
