// Weeks of invented places with their mishaps and keepers, each ended at another hour of the day: journal, book and
// replay agree on lines, tally and rates, wherever a span begins and ends. RINDWATCH_SEEDS=320 lives 64 of them, each
// three weeks long; give it RINDWATCH_PATIENCE=7200.
#include <algorithm>
#include <cstdlib>
#include <random>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/replay/rang.hpp"
#include "daemon/replay/replay.hpp"
#include "daemon/replay/report_json.hpp"
#include "daemon/trial/past_living.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using rules::Instant;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

const std::atomic<bool> kGoOn{false};

// Each takes as long as hundreds of cases of other tests.
int Lives() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? std::max(2, std::atoi(more) / 5) : 2;
}
// Everyday lives are short ones.
days LengthOf() { return std::getenv("RINDWATCH_SEEDS") ? days{21} : days{9}; }

// One life: lived to its end and put away.
class Life {
 public:
  explicit Life(int number) : random_(static_cast<unsigned>(number)) {
    const PastOptions options{.seed = static_cast<std::uint64_t>(number),
                              .farm = number % 4 == 0,
                              .careless = number % 3 == 0,
                              .mishaps = true};
    // Every hour of the day, and no full one.
    end_ = kThursday + hours{number * 7 % 24} + minutes{random_() % 60};
    config_.database = folder_ / "rindwatch.db";
    config_.zone = "Europe/Vienna";
    TrialClock clock{Begin()};
    House house(config_, clock, Purpose::kTrial);
    house.TheWatch().Begin();
    house.Settle();
    LiveThePast(house, clock, options, end_, config_);
    for (const CaveRow* cave : house.TheWatch().TheBook().Caves()) caves.push_back(cave->id);
    book = RangIn(house.TheWatch().TheBook(), Begin(), End(), {});
  }

  std::vector<rules::CaveId> caves;
  std::vector<Rung> book;  // what rang by the book as it stands at the end

  Instant Begin() const { return end_ - LengthOf(); }
  Instant End() const { return end_ + rules::Millis{1}; }
  // Somewhere in it, to the minute.
  Instant Anywhere() {
    return Begin() + minutes{static_cast<int>(random_() % static_cast<unsigned>(minutes{LengthOf()}.count()))};
  }
  ReplayReport Replayed(Instant from, Instant to, std::optional<rules::CaveId> cave = {}, bool whole = false) const {
    return Replay(config_.database, HomeOf(config_),
                  {.from = from, .to = to, .cave = cave, .other = {}, .whole = whole}, kGoOn);
  }

 private:
  std::mt19937 random_;
  Instant end_;
  TempFolder folder_;
  Config config_;
};

void CheckSame(const ReplayReport& report) {
  CAPTURE(ToText(report.from), ToText(report.to));
  CHECK(report.differences == std::vector<std::string>{});
  CHECK(TallyJson(TallyOf(report.now)) == TallyJson(TallyOf(report.then)));
  CHECK(RatesJson(report.rates_now) == RatesJson(report.rates_then));
  CHECK(report.compared.fresh == 0);
}

TEST_CASE("of weeks with mishaps, whenever they end, replay, journal and book say the same") {
  std::size_t rang = 0;
  for (int number = 1; number <= Lives(); ++number) {
    CAPTURE(number);
    Life life(number);
    const ReplayReport all = life.Replayed(life.Begin(), life.End());
    CheckSame(all);
    CHECK(TallyJson(TallyOf(life.book)) == TallyJson(TallyOf(all.now)));
    rang += all.now.size();
    for (int cut = 0; cut < 6; ++cut) {
      const Instant one = life.Anywhere(), other = life.Anywhere();
      if (one != other) CheckSame(life.Replayed(std::min(one, other), std::max(one, other)));
    }
    CheckSame(life.Replayed(life.Anywhere(), life.End(), {}, true));
    for (const rules::CaveId cave : life.caves) {
      const ReplayReport of_cave = life.Replayed(life.Begin(), life.End(), cave);
      CheckSame(of_cave);
      std::vector<Rung> by_book = life.book;
      std::erase_if(by_book, [cave](const Rung& rung) { return rung.cave != cave; });
      CHECK(TallyJson(TallyOf(by_book)) == TallyJson(TallyOf(of_cave.now)));
    }
  }
  CHECK(rang > 0);
}

}  // namespace
}  // namespace rindwatch
