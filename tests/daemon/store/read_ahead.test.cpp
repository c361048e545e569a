#include "daemon/store/read_ahead.hpp"

#include <numeric>
#include <stdexcept>
#include <thread>
#include <vector>

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

constexpr std::int64_t kMany = 5000;  // several batches and a part of one

// Of two readings, or a line of the journal: what held one kind is filled with the other.
Committed Numbered(std::int64_t position) {
  Committed input;
  input.position = position;
  if (position % 3 == 0) {
    JournalLine line;
    line.id = std::to_string(position);
    input.what = line;
  } else {
    rules::Reading reading;
    reading.milli = position;
    input.what = std::vector<rules::Reading>(2, reading);
  }
  return input;
}

bool IsWhole(const Committed& input) {
  if (const auto* line = std::get_if<JournalLine>(&input.what))
    return input.position % 3 == 0 && line->id == std::to_string(input.position);
  const auto* readings = std::get_if<std::vector<rules::Reading>>(&input.what);
  return readings && readings->size() == 2 && readings->back().milli == input.position;
}

std::function<void(const VisitInput&)> Giving(std::int64_t count, std::int64_t* given = nullptr) {
  return [=](const VisitInput& give) {
    for (std::int64_t i = 1; i <= count; ++i) {
      if (given) *given = i;
      if (!give(Numbered(i))) return;
    }
  };
}

TEST_CASE("read ahead: all that is read is visited once, in order, on the caller's thread") {
  for (const std::int64_t count : {0LL, 1LL, 1023LL, 1024LL, 1025LL, 2048LL, 5000LL}) {
    CAPTURE(count);
    std::vector<std::int64_t> seen;
    bool whole = true, mine = true;
    const std::thread::id me = std::this_thread::get_id();
    ReadAhead(Giving(count), [&](const Committed& input) {
      seen.push_back(input.position);
      whole = whole && IsWhole(input);
      mine = mine && std::this_thread::get_id() == me;
      return true;
    });
    std::vector<std::int64_t> all(static_cast<std::size_t>(count));
    std::iota(all.begin(), all.end(), 1);
    CHECK(seen == all);
    CHECK(whole);
    CHECK(mine);
  }
}

TEST_CASE("read ahead: a visitor that has enough ends the reading, which has read little more") {
  std::int64_t given = 0, seen = 0;
  ReadAhead(Giving(1'000'000, &given), [&](const Committed&) { return ++seen < 1500; });
  CHECK(seen == 1500);
  CHECK(given >= 1500);
  CHECK(given < 10'000);
}

TEST_CASE("read ahead: what the reading throws comes out after what was read before it") {
  std::int64_t seen = 0;
  const auto breaks = [](const VisitInput& give) {
    Giving(kMany)(give);
    throw std::runtime_error("the file ends here");
  };
  CHECK_THROWS_AS(ReadAhead(breaks,
                            [&](const Committed&) {
                              ++seen;
                              return true;
                            }),
                  std::runtime_error);
  CHECK(seen == kMany);
}

TEST_CASE("read ahead: a visitor that throws ends the reading") {
  std::int64_t given = 0;
  CHECK_THROWS_AS(
      ReadAhead(Giving(1'000'000, &given), [](const Committed&) -> bool { throw std::logic_error("enough"); }),
      std::logic_error);
  CHECK(given < 10'000);
}

}  // namespace
}  // namespace rindwatch
