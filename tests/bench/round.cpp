// What the care of many wheels costs: a farm of lots of fourteen on every plan of the library, with a year of the
// journal of a keeper who did everything until last night and has today's round to do. Prints a table; times are the
// processor's, counters are the same on every machine. The farm is invented.
//   round-bench [WHEELS ...]    100, 1000, 10000 and 100000 unless others are named
#include <malloc.h>

#include <algorithm>
#include <boost/json.hpp>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <map>
#include <new>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/clock/zones.hpp"
#include "daemon/round/round.hpp"
#include "daemon/round/today.hpp"
#include "rules/care/look_ahead.hpp"

namespace {

std::size_t allocations = 0;
std::size_t bytes_held = 0;

}  // namespace

void* operator new(std::size_t size) {
  void* memory = std::malloc(size);
  if (!memory) throw std::bad_alloc();
  ++allocations;
  bytes_held += malloc_usable_size(memory);
  return memory;
}
void operator delete(void* memory) noexcept {
  if (memory) bytes_held -= malloc_usable_size(memory);
  std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept { operator delete(memory); }

namespace rindwatch {
namespace {

namespace json = boost::json;
using rules::CareKind;
using rules::Date;
using rules::Instant;
using rules::KindSet;
using std::chrono::days;
using std::chrono::hours;

constexpr int kLot = 14;
constexpr int kYear = 365;

double ProcessorMillis() {
  timespec used{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &used);
  return static_cast<double>(used.tv_sec) * 1e3 + static_cast<double>(used.tv_nsec) / 1e6;
}

// What one piece of work took.
struct Cost {
  double millis = 0;
  std::size_t allocated = 0;
};
template <typename Work>
Cost CostOf(Work work) {
  const std::size_t before = allocations;
  const double began = ProcessorMillis();
  work();
  return {ProcessorMillis() - began, allocations - before};
}

std::string ActText(std::mt19937_64& random) {
  char text[33];
  std::snprintf(text, sizeof text, "%016llx%016llx", static_cast<unsigned long long>(random()),
                static_cast<unsigned long long>(random()));
  return text;
}

// Writes the journal of the farm into a book.
class Farm {
 public:
  explicit Farm(int wheels)
      : held_before_(bytes_held), turn_{LoadZone("Europe/Vienna"), 4}, book(turn_), now_(At(kToday, 7)) {
    AddCaves();
    for (int first = 1; first <= wheels; first += kLot) AddLot(first, std::min(kLot, wheels - first + 1));
    bytes_ = bytes_held - held_before_;
  }
  std::size_t BytesHeld() const { return bytes_; }

  Instant Now() const { return now_; }
  struct Ticked {
    JournalLine line;
    std::vector<Fact> facts;
  };
  Ticked MakeTick(const std::vector<rules::WheelId>& wheels, KindSet done, Instant at) {
    Ticked ticked{Line("care", at), {}};
    for (const rules::WheelId wheel : wheels) ticked.facts.push_back(CareFact(wheel, done, at));
    return ticked;
  }
  void Take(const Ticked& ticked) {
    for (const Fact& fact : ticked.facts) book.Take(ticked.line, fact);
  }
  std::vector<const WheelRow*> FirstOfLives() const {
    std::vector<const WheelRow*> firsts;
    std::set<const WheelLife*> seen;
    for (const WheelRow* wheel : book.Wheels()) {
      if (seen.insert(book.LifeOf(*wheel)).second) firsts.push_back(wheel);
    }
    return firsts;
  }

 private:
  static constexpr Date kToday = rules::MakeDate(2027, 3, 1);
  static constexpr int kCaves = 8, kShelves = 40;

  Instant At(Date day, int hour) const { return turn_.zone.FirstInstantAtOrAfter(rules::LocalTime{day} + hours{hour}); }

  JournalLine Line(const char* kind, Instant at) {
    JournalLine line;
    line.id = ActText(random_);
    line.kind = kind;
    line.keeper = "IH";
    line.at = line.received_at = at;
    return line;
  }

  void AddCaves() {
    for (int cave = 1; cave <= kCaves; ++cave) {
      const Instant at = At(kToday - days{kYear + 1}, 8);
      book.Take(Line("enter", at), {"cave",
                                    cave,
                                    "cave",
                                    at,
                                    {{"kind", "room"}, {"name", "Room " + std::to_string(cave)}, {"inside", nullptr}}});
    }
  }

  static Fact CareFact(rules::WheelId wheel, KindSet done, Instant at) {
    json::array kinds;
    for (const CareKind kind : done) kinds.push_back(json::string(rules::ToText(kind)));
    return {
        "wheel", wheel, "care", at, {{"done", kinds}, {"skipped", nullptr}, {"reason", ""}, {"known", ToMillis(at)}}};
  }

  void AddLot(int first, int count) {
    const auto& plans = rules::PlanLibrary();
    const rules::Plan& plan = plans[static_cast<std::size_t>(lots_) % plans.size()];
    const Date made = kToday - days{1 + static_cast<int>(random_() % kYear)};
    const Instant entered = At(made, 8);
    const int lot = ++lots_;
    const JournalLine line = Line("enter", entered);
    const json::object place{{"cave", 1 + lot % kCaves}, {"shelf", "A" + std::to_string(1 + lot / kCaves % kShelves)}};
    book.Take(line, {"lot", lot, "lot", entered, {{"name", std::to_string(lot)}, {"plan", plan.id}}});
    std::vector<rules::WheelId> wheels;
    for (int wheel = first; wheel < first + count; ++wheel) {
      wheels.push_back(wheel);
      book.Take(line, {"wheel", wheel, "wheel", entered, {{"lot", lot}, {"number", wheel}, {"grams", 2000}}});
      book.Take(line, {"wheel", wheel, "plan", entered, {{"plan", plan.id}, {"version", plan.version}}});
      book.Take(
          line,
          {"wheel",
           wheel,
           "start",
           entered,
           {{"start", rules::ToText(plan.parts.front().start)}, {"day", rules::ToText(made)}, {"reckoned", false}}});
      book.Take(line, {"wheel", wheel, "place", entered, place});
    }
    Live(wheels, made);
  }

  // At 07:00 and 19:00 everything is done and every question answered.
  void Live(const std::vector<rules::WheelId>& wheels, Date made) {
    const auto calendar = book.CalendarOf(std::nullopt);
    std::optional<Date> next = made;
    for (Date day = made; day <= kToday && next; day += days{1}) {
      for (const int hour : {7, 19}) {
        const Instant at = At(day, hour);
        if (day < *next || at <= At(made, 8) || at >= now_) continue;
        const auto schedule = rules::ScheduleAt(book.Wheel(wheels.front())->History(), calendar, at);
        bool waits = false;
        KindSet done;
        for (const rules::CareLine& care : schedule.lines) {
          if (care.OnRound()) done = done.With(KindSet{care.kinds});
          waits |= care.not_before.has_value();
        }
        if (!done.Empty()) Take(MakeTick(wheels, done, at));
        Answer(wheels, schedule, day, at);
        const bool look = waits || !done.Empty() || !schedule.questions.empty();
        next = look ? std::optional{day} : schedule.next_change;
        if (!next) return;
      }
    }
  }

  void Answer(const std::vector<rules::WheelId>& wheels, const rules::Schedule& schedule, Date day, Instant at) {
    for (const rules::Question& question : schedule.questions) {
      const JournalLine line = Line("answer", at);
      for (const rules::WheelId wheel : wheels) {
        if (question.kind == rules::Question::Kind::kStart) {
          book.Take(line,
                    {"wheel",
                     wheel,
                     "start",
                     at,
                     {{"start", rules::ToText(question.start)}, {"day", rules::ToText(day)}, {"reckoned", false}}});
        } else {
          book.Take(line, {"wheel", wheel, "branch", at, {{"option", schedule.standing.branch_option}}});
        }
      }
    }
  }

  std::size_t held_before_, bytes_ = 0;
  rules::DayTurn turn_;
  std::mt19937_64 random_{1};
  int lots_ = 0;

 public:
  Book book;

 private:
  Instant now_;
};

// Signs lines all over the round, one after another as a keeper does, and brings the round up to date after each.
class Signing {
 public:
  Signing(Farm& farm, Today& today) : farm_(farm), today_(today), now_(farm.Now()) {}

  void SignAll() {
    const rules::Round before = today_.Round(now_, {}).work;
    const std::size_t step = std::max<std::size_t>(1, before.lines.size() / kMostTicks);
    for (std::size_t i = 0; i < before.lines.size(); i += step) Sign(*before.lines[i].line);
  }
  // Of one of them.
  double Millis() const { return all_.millis / ticks_; }
  double WorstMillis() const { return worst_; }
  double Allocated() const { return static_cast<double>(all_.allocated) / ticks_; }

 private:
  static constexpr std::size_t kMostTicks = 200;
  static constexpr std::chrono::seconds kOneLine{20};  // some come in the same minute as the one before

  void Sign(const rules::RoundLine& line) {
    now_ += kOneLine;
    std::vector<rules::WheelId> wheels;
    for (const rules::RoundWheel& wheel : line.wheels) wheels.push_back(wheel.id);
    const auto ticked = farm_.MakeTick(wheels, KindSet{line.care->kinds}, now_);
    const Cost cost = CostOf([&] {
      farm_.Take(ticked);
      for (const Fact& fact : ticked.facts) today_.Saw(ticked.line, fact);
      today_.Round(now_, {});
    });
    ++ticks_;
    all_.millis += cost.millis;
    all_.allocated += cost.allocated;
    worst_ = std::max(worst_, cost.millis);
  }

  Farm& farm_;
  Today& today_;
  Instant now_;
  int ticks_ = 0;
  Cost all_;
  double worst_ = 0;
};

void Measure(int wheels) {
  const Farm empty(0);
  Farm farm(wheels);
  const auto calendar = farm.book.CalendarOf(std::nullopt);
  const Instant now = farm.Now();
  const auto lives = farm.FirstOfLives();
  std::size_t acts = 0;
  for (const WheelRow* life : lives) acts += life->History().acts.size();

  const Cost schedules = CostOf([&] {
    for (const WheelRow* life : lives) rules::ScheduleAt(life->History(), calendar, now);
  });
  const Cost year = CostOf([&] {
    for (const WheelRow* life : lives) rules::LookAhead(life->History(), calendar, now, kYear);
  });
  const std::size_t before_round = bytes_held;
  Today today(farm.book);
  const Cost round = CostOf([&] { today.Round(now, {}); });
  // Of book and round, without the plans, the zone and the caves, which an empty book holds too. Of a hundred wheels
  // the difference drowns in what the allocator keeps: it may come out below nothing.
  const double bytes =
      (static_cast<double>(farm.BytesHeld() + bytes_held - before_round) - static_cast<double>(empty.BytesHeld())) /
      wheels;
  const std::size_t left = today.Round(now, {}).Left();
  const Cost other = CostOf([&] { RoundAsOf(farm.book, now); });
  Signing signing(farm, today);
  signing.SignAll();
  std::printf(
      "%7d | %6zu | %6.1f | %7.0f | %7.3f %8zu %7zu | %7.3f %8zu %5zu | %7.3f %8zu | %7.1f %9zu | %7.4f %7.4f %6.0f\n",
      wheels, lives.size(), static_cast<double>(acts) / static_cast<double>(lives.size()), bytes, schedules.millis,
      schedules.allocated, acts, round.millis, round.allocated, left, other.millis, other.allocated, year.millis,
      year.allocated, signing.Millis(), signing.WorstMillis(), signing.Allocated());
  std::fflush(stdout);
}

}  // namespace
}  // namespace rindwatch

int main(int argc, char** argv) {
  std::printf(
      "        |        | acts a | bytes a | all schedules            | today, from scratch    | another instant's | a "
      "year ahead of all | one tick, mean and worst\n"
      " wheels |  lives |   life |   wheel |      ms   allocs    acts |      ms   allocs lines |      ms   allocs |    "
      "  "
      "ms    allocs |      ms      ms allocs\n");
  if (argc < 2) {
    for (const int wheels : {100, 1'000, 10'000, 100'000}) rindwatch::Measure(wheels);
  }
  for (int i = 1; i < argc; ++i) rindwatch::Measure(std::max(1, std::atoi(argv[i])));
}
