#include "rules/notices/escalation.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

const DayTurn kHome{Zone{}, 4};
const Instant kNoon = FromMillis(1'795'694'400'000);  // 2026-11-26T12:00Z, a Thursday

Instant At(int hour, int minute = 0) { return kNoon + hours{hour - 12} + minutes{minute}; }

Asking Rings(Severity severity, Instant asked = kNoon) {
  Asking alarm;
  alarm.alarm = "a";
  alarm.severity = severity;
  alarm.asked = asked;
  alarm.rings = true;
  return alarm;
}

// A house whose notices are looked at when they say they want to be, or when something happens.
struct House {
  std::vector<Hearer> hearers;
  std::vector<Asking> alarms;
  Said said;
  std::vector<std::pair<Instant, Notice>> told;

  std::optional<Instant> Look(Instant now) {
    for (int turn = 0; turn < 100; ++turn) {
      const DueNotices due = NoticesDue(hearers, alarms, said, kHome, now);
      if (due.now.empty()) return due.next;
      for (const Notice& notice : due.now) {
        const auto about = std::ranges::find(alarms, notice.alarm, &Asking::alarm);
        said.Add({notice, now, false, about->severity >= Severity::kAct});
        told.emplace_back(now, notice);
      }
    }
    FAIL("it never ends");
    return {};
  }
  void Until(Instant from, Instant to) {
    for (std::optional<Instant> next = from; next && *next <= to;) next = Look(*next);
  }
  std::vector<std::string> Names() const {
    std::vector<std::string> names;
    for (const auto& [at, notice] : told) names.push_back(notice.hearer);
    return names;
  }
};

unsigned Seeds() {
  const char* more = std::getenv("RINDWATCH_SEEDS");
  return more ? static_cast<unsigned>(std::atoi(more)) * 100 : 1000;
}

// Draws a house by its seed.
class Dice {
 public:
  explicit Dice(unsigned seed) : random_(seed) {}
  int UpTo(int most) { return static_cast<int>(random_() % static_cast<unsigned>(most + 1)); }
  // One to four, with quiet hours or without; some of them away today.
  std::vector<Hearer> Hearers(bool holidays) {
    std::vector<Hearer> hearers;
    for (int nth = UpTo(3); nth >= 0; --nth) {
      Hearer hearer{.name = std::string(1, static_cast<char>('A' + nth)), .least = static_cast<Severity>(1 + UpTo(3))};
      if (UpTo(1)) hearer.quiet = QuietHours{minutes{UpTo(1439)}, minutes{UpTo(1439)}};
      if (holidays && UpTo(3) == 0)
        hearer.holidays.push_back({kHome.DayOf(kNoon), kHome.DayOf(kNoon) + days{1 + UpTo(2)}});
      hearers.push_back(hearer);
    }
    return hearers;
  }

 private:
  std::mt19937 random_;
};

// Who is to come for it, in order: whoever is there, or all where nobody is.
std::vector<std::string> Called(const std::vector<Hearer>& hearers, Severity severity) {
  std::vector<std::string> there, all;
  for (const Hearer& hearer : hearers) {
    if (hearer.least > severity) continue;
    all.push_back(hearer.name);
    if (!IsAway(hearer, kHome.DayOf(kNoon))) there.push_back(hearer.name);
  }
  return there.empty() ? all : there;
}

const std::vector<Hearer> kThree{{.name = "IH"}, {.name = "TR"}, {.name = "MK"}};

}  // namespace

TEST_CASE(
    "an alarm that wants a hand goes to the first, after 15 minutes to the next, after 45 to all, and no further") {
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  house.Until(kNoon, kNoon + days{2});
  REQUIRE(house.told.size() == 3);
  CHECK(house.told[0] == std::pair(kNoon, Notice{"IH", "a", NoticeKind::kRings, kNoon, 0}));
  CHECK(house.told[1] == std::pair(kNoon + minutes{15}, Notice{"TR", "a", NoticeKind::kRings, kNoon, 0}));
  CHECK(house.told[2] == std::pair(kNoon + minutes{45}, Notice{"MK", "a", NoticeKind::kRings, kNoon, 0}));
}

namespace {
std::vector<Millis> ToldAfter(const House& house, Instant since) {
  std::vector<Millis> after;
  for (const auto& [at, notice] : house.told) after.push_back(at - since);
  return after;
}
}  // namespace

TEST_CASE("where nobody else is to be called, who was hears it again after 15 and 45 minutes, and no more") {
  House house{{{.name = "IH", .quiet = QuietHours{hours{22}, hours{6}}}}, {Rings(Severity::kAct)}, {}, {}};
  SECTION("by day and by night alike") {
    const Instant asked = GENERATE(kNoon, At(23));
    house.alarms[0].asked = asked;
    house.Until(asked, asked + days{1});
    CHECK(ToldAfter(house, asked) == std::vector<Millis>{minutes{0}, minutes{15}, minutes{45}});
    CHECK(house.told[1].second == Notice{"IH", "a", NoticeKind::kAgain, asked, 1});
  }
  SECTION("of a power cut by night each after an hour, for to come sooner mends nothing") {
    house.alarms[0].asked = At(23);
    house.alarms[0].keeps = true;
    house.Until(At(23), At(24 + 5));
    CHECK(ToldAfter(house, At(23)) == std::vector<Millis>{hours{0}, hours{1}, hours{2}});
  }
  SECTION("not while it is back, or comes back; and then each with its distance") {
    house.Until(kNoon, At(12, 10));
    (GENERATE(true, false) ? house.alarms[0].inside : house.alarms[0].eases) = true;
    house.Until(At(12, 10), At(14));
    CHECK(house.told.size() == 1);
    house.alarms[0].inside = house.alarms[0].eases = false;
    house.Until(At(14), At(20));
    CHECK(ToldAfter(house, At(14)) == std::vector<Millis>{-hours{2}, minutes{0}, minutes{30}});
  }
  SECTION("nor once it is taken") {
    house.Until(kNoon, At(12, 10));
    house.alarms[0].rings = false;
    house.alarms[0].taken = At(12, 10);
    house.Until(At(12, 10), At(20));
    CHECK(house.told.size() == 1);
  }
  SECTION("another one who is away, or hears of what is urgent alone, is nobody to be called") {
    const bool away = GENERATE(true, false);
    house.hearers.push_back({.name = "TR", .least = away ? Severity::kWatch : Severity::kUrgent});
    if (away) house.hearers[1].holidays.push_back({kHome.DayOf(kNoon), kHome.DayOf(kNoon) + days{2}});
    house.Until(kNoon, At(20));
    CHECK(house.Names() == std::vector<std::string>{"IH", "IH", "IH"});
  }
}

TEST_CASE("whoever was called hears once more when the first wheel leaves its band, while nobody has taken it") {
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  SECTION("as it was foreseen") {
    house.alarms[0].leaves = At(13, 25);
    house.Until(kNoon, At(20));
    REQUIRE(house.told.size() == 6);
    for (std::size_t nth = 3; nth < 6; ++nth) {
      CHECK(house.told[nth].first == At(13, 25));
      CHECK(house.told[nth].second.kind == NoticeKind::kAgain);
    }
  }
  SECTION("sooner than it was foreseen") {
    house.alarms[0].leaves = At(20);
    house.Until(kNoon, At(13));
    house.alarms[0].leaves = At(13);
    house.Until(At(13), At(13, 30));
    CHECK(house.told.size() == 6);
  }
  SECTION("not where it had left before they were told, nor while the air is back") {
    house.alarms[0].leaves = kNoon - hours{1};
    house.Until(kNoon, At(13));
    CHECK(house.told.size() == 3);
    house.alarms[0].leaves = At(14);
    house.alarms[0].inside = true;
    house.Until(At(13), At(20));
    CHECK(house.told.size() == 3);
  }
  SECTION("never two in a quarter of an hour") {
    house.hearers.resize(1);
    house.alarms[0].leaves = At(12, 20);
    house.Until(kNoon, At(20));
    CHECK(ToldAfter(house, kNoon) == std::vector<Millis>{minutes{0}, minutes{15}, minutes{30}, minutes{45}});
  }
}

TEST_CASE("while what was wrong is back inside nobody is called who was not yet, and in turn once it leaves anew") {
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  house.Until(kNoon, At(12, 20));
  CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  house.alarms[0].inside = true;
  house.Until(At(12, 20), At(14));
  CHECK(house.told.size() == 2);
  SECTION("it leaves anew: who was next is called then") {
    house.alarms[0].inside = false;
    house.Until(At(14), At(14, 5));
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR", "MK"});
  }
  SECTION("it is over: whoever was told hears so, and nobody else") {
    house.alarms[0].rings = false;
    house.alarms[0].over = At(14);
    house.Until(At(14), At(20));
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR", "IH", "TR"});
  }
}

TEST_CASE("a first word, quiet or loud, is not said while the air is back inside; gas is, to whoever may be in it") {
  House house{{{"IH"}}, {Rings(GENERATE(Severity::kWatch, Severity::kAct))}, {}, {}};
  house.alarms[0].inside = true;
  SECTION("of the air") {
    house.Until(kNoon, At(14));
    CHECK(house.told.empty());
    house.alarms[0].inside = false;
    house.Until(At(14), At(14, 10));
    CHECK(house.told.size() == 1);
  }
  SECTION("of gas") {
    house.alarms[0].severity = Severity::kAct;
    house.alarms[0].of_people = true;
    house.Until(kNoon, At(12, 1));
    CHECK(house.told.size() == 1);
  }
}

TEST_CASE("once it is taken nobody else is called, and the others who were told hear who took it") {
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  house.Until(kNoon, kNoon + minutes{20});
  house.alarms[0].rings = false;
  house.alarms[0].taken = kNoon + minutes{20};
  house.alarms[0].taken_by = "TR";
  house.told.clear();
  house.Until(kNoon + minutes{20}, kNoon + days{1});
  REQUIRE(house.told.size() == 1);
  CHECK(house.told[0].second == Notice{"IH", "a", NoticeKind::kTaken, kNoon, 0});
}

TEST_CASE("who hears alone is not told that an alarm was taken, unless somebody else signed it") {
  for (const char* by : {"", "TR"}) {
    CAPTURE(by);
    House house{{{"IH"}}, {Rings(Severity::kAct)}, {}, {}};
    house.Until(At(12), At(12, 1));
    house.alarms[0].rings = false;
    house.alarms[0].taken = At(12, 2);
    house.alarms[0].taken_by = by;
    house.Look(At(12, 3));
    CHECK(house.told.size() == (*by ? 2 : 1));
  }
}

TEST_CASE("what is urgent comes again until it is taken, every 15 minutes and after two hours every hour") {
  House house{{{.name = ""}}, {Rings(Severity::kUrgent)}, {}, {}};
  house.Until(kNoon, kNoon + hours{5});
  std::vector<Millis> after;
  for (const auto& [at, notice] : house.told) after.push_back(at - kNoon);
  CHECK(after == std::vector<Millis>{minutes{0}, minutes{15}, minutes{30}, minutes{45}, minutes{60}, minutes{75},
                                     minutes{90}, minutes{105}, minutes{120}, hours{3}, hours{4}, hours{5}});
}

TEST_CASE("a power cut comes again every hour in quiet hours, and as often as all that is urgent by day") {
  const Instant night = At(23);
  House house{{{.name = "", .quiet = QuietHours{hours{22}, hours{6}}}}, {Rings(Severity::kUrgent, night)}, {}, {}};
  house.alarms[0].keeps = GENERATE(true, false);
  house.Until(night, night + hours{9});
  std::vector<Millis> after;
  for (const auto& [at, notice] : house.told) after.push_back(at - night);
  REQUIRE(after.size() > 9);
  if (house.alarms[0].keeps)
    CHECK(std::vector<Millis>(after.begin(), after.begin() + 10) ==
          std::vector<Millis>{hours{0}, hours{1}, hours{2}, hours{3}, hours{4}, hours{5}, hours{6}, hours{7},
                              hours{7} + minutes{15}, hours{8} + minutes{15}});
  else
    CHECK(after[1] == minutes{15});
}

TEST_CASE("what is urgent does not come again while it is back inside, and does once it has left again") {
  House house{{{"IH"}}, {Rings(Severity::kUrgent)}, {}, {}};
  house.Until(At(12), At(12, 31));
  CHECK(house.told.size() == 3);
  house.alarms[0].inside = true;
  house.Until(At(12, 31), At(14));
  CHECK(house.told.size() == 3);
  house.alarms[0].inside = false;
  house.Until(At(14), At(14, 14));
  CHECK(house.told.size() == 4);
  CHECK(house.told.back().second.kind == NoticeKind::kAgain);
}

TEST_CASE("what is urgent comes again only every hour while it eases, and soon when it does not any more") {
  House house{{{"IH"}}, {Rings(Severity::kUrgent)}, {}, {}};
  house.Until(At(12), At(12, 20));
  CHECK(house.told.size() == 2);
  house.alarms[0].eases = true;
  house.Until(At(12, 20), At(14, 30));
  REQUIRE(house.told.size() == 4);
  CHECK(house.told[2].first == At(13, 15));
  CHECK(house.told[3].first == At(14, 15));
  house.alarms[0].eases = false;
  house.Until(At(14, 20), At(14, 44));
  CHECK(house.told.size() == 5);
  CHECK(house.told[4].first == At(14, 30));
}

TEST_CASE("a quiet word that waited is not said while what it was about eases, and is when it does not") {
  House house{{{"IH", Severity::kWatch}}, {Rings(Severity::kWatch)}, {}, {}};
  house.alarms[0].eases = true;
  house.Until(At(12), At(13));
  CHECK(house.told.empty());
  SECTION("it comes again") {
    house.alarms[0].eases = false;
    house.Until(At(13), At(13, 20));
    CHECK(house.told.size() == 1);
  }
  SECTION("it is over") {
    house.alarms[0].rings = false;
    house.alarms[0].over = At(13);
    house.Until(At(13), At(14));
    CHECK(house.told.empty());
  }
}

TEST_CASE("what becomes urgent is told at once to whoever was called or took it, gas to all") {
  House house{{{"IH"}, {"TR"}, {"MK"}}, {Rings(Severity::kAct)}, {}, {}};
  house.Until(At(12), At(12, 20));
  CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  house.alarms[0].severity = Severity::kUrgent;
  house.alarms[0].asked = At(12, 21);
  house.alarms[0].of_people = GENERATE(false, true);
  house.told.clear();
  house.Until(At(12, 21), At(12, 22));
  if (house.alarms[0].of_people) {
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR", "MK"});
  } else {
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  }
}

TEST_CASE("what becomes urgent untaken puts nobody off: all are called 45 minutes after the first was") {
  House house{{{"IH"}, {"TR"}, {"MK"}}, {Rings(Severity::kAct)}, {}, {}};
  house.Until(At(12), At(12, 43));
  house.alarms[0].severity = Severity::kUrgent;
  house.alarms[0].asked = At(12, 44);
  house.told.clear();
  SECTION("untaken") {
    house.Until(At(12, 44), At(12, 46));
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR", "MK"});
    CHECK(house.told.back().first == At(12, 45));
  }
  SECTION("taken before, somebody is about it") {
    house.alarms[0].taken_by = "IH";
    house.Until(At(12, 44), At(12, 46));
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  }
}

TEST_CASE("whoever hears of what is urgent alone is called by it as if they had heard of it all") {
  const bool alone = GENERATE(true, false);
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  if (alone) house.hearers[2].least = Severity::kUrgent;
  if (!alone) house.hearers[2].holidays.push_back({kHome.DayOf(kNoon), kHome.DayOf(kNoon) + days{1}});
  house.Until(At(12), At(13, 59));
  house.hearers[2].holidays.clear();
  house.alarms[0].severity = Severity::kUrgent;
  house.alarms[0].asked = At(14);
  house.told.clear();
  house.Until(At(14), At(14, 1));
  CHECK(house.Names() == (alone ? std::vector<std::string>{"IH", "TR", "MK"} : std::vector<std::string>{"IH", "TR"}));
}

TEST_CASE("where somebody stopped the bell of the lesser thing, nobody is called as if none had come") {
  House house{kThree, {Rings(Severity::kAct)}, {}, {}};
  house.hearers[2].least = Severity::kUrgent;
  house.Until(At(12), At(13, 29));
  house.alarms[0].severity = Severity::kUrgent;
  house.alarms[0].asked = At(14);
  house.alarms[0].quieted = At(13, 30);  // set aside, or taken by whoever did not sign
  house.told.clear();
  house.Until(At(14), At(14, 1));
  CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  house.told.clear();
  house.Until(At(14, 1), At(14, 45));
  CHECK(std::ranges::count(house.Names(), "MK") == 1);
}

TEST_CASE("what was a quiet word before calls in its order when it becomes urgent") {
  House house{
      {{"IH", Severity::kWatch}, {"TR", Severity::kAct}, {"MK", Severity::kAct}}, {Rings(Severity::kWatch)}, {}, {}};
  house.Until(At(12), At(12, 20));
  house.alarms[0].severity = Severity::kUrgent;
  house.alarms[0].asked = At(12, 30);
  house.told.clear();
  house.Until(At(12, 30), At(12, 44));
  CHECK(house.Names() == std::vector<std::string>{"IH"});
}

TEST_CASE("gas that wants a hand is told to all at once: whoever is in it must not be the only one who knows") {
  House house{{{"IH"}, {"TR"}, {"MK"}}, {Rings(Severity::kAct)}, {}, {}};
  house.alarms[0].of_people = true;
  house.Until(At(12), At(12, 1));
  CHECK(house.Names() == std::vector<std::string>{"IH", "TR", "MK"});
}

TEST_CASE("whoever took the lesser thing hears at once that it is urgent, though another is asked first") {
  House house{{{"IH"}, {"TR"}}, {Rings(Severity::kUrgent)}, {}, {}};
  house.alarms[0].taken_by = "TR";
  house.Until(At(12), At(12, 1));
  CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
}

TEST_CASE("a quiet word about what may grow waits ten minutes, and is never said where it was loud by then") {
  House house{{{"IH", Severity::kWatch}}, {Rings(Severity::kWatch)}, {}, {}};
  house.alarms[0].may_grow = true;
  house.Until(At(12), At(12, 9));
  CHECK(house.told.empty());
  SECTION("it stays") {
    house.Until(At(12, 9), At(12, 20));
    REQUIRE(house.told.size() == 1);
    CHECK(house.told[0].first == At(12, 10));
  }
  SECTION("it grows") {
    house.alarms[0].severity = Severity::kAct;
    house.alarms[0].asked = At(12, 9);
    house.Until(At(12, 9), At(12, 20));
    REQUIRE(house.told.size() == 1);
    CHECK(house.told[0].first == At(12, 9));
  }
  SECTION("it is over") {
    house.alarms[0].rings = false;
    house.alarms[0].over = At(12, 8);
    house.Until(At(12, 9), At(13));
    CHECK(house.told.empty());
  }
}

TEST_CASE("in quiet hours a watch waits for their end, what wants a hand sounds") {
  Hearer quiet{.name = "IH", .quiet = QuietHours{hours{22}, hours{6}}};
  SECTION("watch") {
    House house{{quiet}, {Rings(Severity::kWatch, At(23))}, {}, {}};
    house.Until(At(23), At(23) + days{1});
    REQUIRE(house.told.size() == 1);
    CHECK(house.told[0].first == At(30));  // six in the morning
  }
  SECTION("watch that is over before they end") {
    House house{{quiet}, {Rings(Severity::kWatch, At(23))}, {}, {}};
    house.Until(At(23), At(24));
    house.alarms[0].rings = false;
    house.alarms[0].over = At(25);
    house.Until(At(25), At(40));
    CHECK(house.told.empty());
  }
  SECTION("act") {
    House house{{quiet}, {Rings(Severity::kAct, At(23))}, {}, {}};
    house.Until(At(23), At(23, 10));
    CHECK(house.told.size() == 1);
  }
}

TEST_CASE("the end is told to whoever heard of it, once, and into the night only to who was called in it") {
  Hearer quiet{.name = "IH", .quiet = QuietHours{hours{22}, hours{6}}};
  const int rang = GENERATE(21, 23);
  House house{{quiet, {.name = "TR"}}, {Rings(Severity::kAct, At(rang))}, {}, {}};
  house.Until(At(rang), At(rang, 5));
  house.alarms[0].rings = false;
  house.alarms[0].over = At(23, 10);
  house.Until(At(23, 10), At(23) + days{1});
  REQUIRE(house.told.size() == 2);
  CHECK(house.told[1] ==
        std::pair(rang == 23 ? At(23, 10) : At(30), Notice{"IH", "a", NoticeKind::kOver, At(rang), 0}));
}

TEST_CASE("whoever was called by what is urgent hears at once that it is over, at any hour") {
  Hearer quiet{.name = "IH", .quiet = QuietHours{hours{22}, hours{6}}};
  House house{{quiet}, {Rings(Severity::kUrgent, At(23))}, {}, {}};
  house.Until(At(23), At(23, 5));
  house.alarms[0].rings = false;
  house.alarms[0].over = At(23, 10);
  house.Until(At(23, 10), At(23) + days{1});
  REQUIRE(house.told.size() == 2);
  CHECK(house.told[1] == std::pair(At(23, 10), Notice{"IH", "a", NoticeKind::kOver, At(23), 0}));
}

TEST_CASE("the end of what another alarm tells is told only to whoever did not hear of that one") {
  House house{{{.name = "IH"}, {.name = "TR"}}, {Rings(Severity::kWatch)}, {}, {}};
  house.Until(At(12), At(12, 1));
  Asking main = Rings(Severity::kAct, At(13));
  main.alarm = "main";
  house.alarms.push_back(main);
  house.alarms[0].rings = false;
  house.alarms[0].told_by = "main";
  house.Until(At(13), At(13, 5));
  house.alarms[1].rings = false;
  house.alarms[1].taken = At(13, 5);
  house.alarms[1].taken_by = "IH";
  house.told.clear();
  house.alarms[0].over = At(15);
  house.Until(At(15), At(16));
  REQUIRE(house.told.size() == 1);
  CHECK(house.told[0] == std::pair(At(15), Notice{"TR", "a", NoticeKind::kOver, kNoon, 0}));
}

TEST_CASE("nobody hears of less than was asked for") {
  House house{{{.name = "IH", .least = Severity::kUrgent}, {.name = "TR", .least = Severity::kAct}},
              {Rings(Severity::kAct)},
              {},
              {}};
  house.Until(kNoon, kNoon + days{1});
  CHECK(house.Names() == std::vector<std::string>{"TR", "TR", "TR"});
  CHECK(house.told[0].first == kNoon);
}

TEST_CASE("who is away is passed over; where all are away all are asked") {
  const Date today = kHome.DayOf(kNoon);
  Hearer away{.name = "IH", .holidays = {{today - days{3}, today + days{4}}}};
  House house{{away, {.name = "TR"}}, {Rings(Severity::kAct)}, {}, {}};
  SECTION("one is there") {
    house.Until(kNoon, kNoon + days{1});
    CHECK(house.Names() == std::vector<std::string>{"TR", "TR", "TR"});
    CHECK(house.told[0].first == kNoon);
  }
  SECTION("all are away") {
    house.hearers[1].holidays = away.holidays;
    house.Until(kNoon, kNoon + days{1});
    CHECK(house.Names() == std::vector<std::string>{"IH", "TR"});
  }
  SECTION("a hint waits for nobody who is away") {
    house.hearers = {away};
    house.alarms[0].severity = Severity::kWatch;
    house.Until(kNoon, kNoon + hours{6});
    CHECK(house.told.empty());
  }
}

TEST_CASE("what got worse after it was told asks again") {
  House house{{{.name = "IH"}}, {Rings(Severity::kWatch)}, {}, {}};
  house.Until(kNoon, kNoon + minutes{5});
  house.alarms[0].severity = Severity::kAct;
  house.alarms[0].asked = kNoon + minutes{30};
  house.Until(kNoon + minutes{30}, kNoon + minutes{40});
  REQUIRE(house.told.size() == 2);
  CHECK(house.told[1].second.asked == kNoon + minutes{30});
}

TEST_CASE("an act whose arrival cannot be known is told once more, and no more than that") {
  House house{{{.name = "IH"}, {.name = "TR"}}, {Rings(Severity::kAct)}, {}, {}};
  house.Until(kNoon, kNoon + minutes{1});
  house.said.Doubt(house.told[0].second);
  house.Until(kNoon + minutes{1}, kNoon + days{1});
  REQUIRE(house.told.size() == 3);
  CHECK(house.told[1] == std::pair(kNoon + minutes{15}, Notice{"IH", "a", NoticeKind::kAgain, kNoon, 1}));
  CHECK(house.told[2].second.hearer == "TR");
}

TEST_CASE("that nobody watched is told although it is over, without an end of its own") {
  Asking news = Rings(Severity::kAct);
  news.rings = false;
  news.news = true;
  news.over = kNoon;
  House house{{{.name = "IH"}}, {news}, {}, {}};
  house.Until(kNoon, kNoon + days{1});
  REQUIRE(house.told.size() == 1);
  CHECK(house.told[0].second.kind == NoticeKind::kRings);
}

TEST_CASE("a clock that steps a day forward and back says nothing twice and forgets nothing") {
  House house{kThree, {Rings(Severity::kUrgent)}, {}, {}};
  house.Until(kNoon, kNoon + minutes{5});
  house.Look(kNoon + days{1});
  CHECK(house.told.size() == 4);  // all three by then, and the first once more
  const auto back = kNoon + minutes{10};
  house.Look(back);
  // Each has heard of it in a time that never was: once more, in case nobody did, and then as ever.
  std::set<std::pair<std::string, int>> keys;
  for (const auto& [at, notice] : house.told) CHECK(keys.emplace(notice.hearer, notice.nth).second);
  const std::size_t said = house.told.size();
  house.Look(back + minutes{1});
  CHECK(house.told.size() == said);
  const auto next = house.Look(back + minutes{1});
  REQUIRE(next);
  CHECK(*next <= back + minutes{15});
}

TEST_CASE("over a thousand houses: looked at often or seldom, killed or not, the same is said, each once, in order") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    Dice dice(seed);
    const std::vector<Hearer> hearers = dice.Hearers(true);
    const auto severity = static_cast<Severity>(1 + dice.UpTo(3));
    const Instant ends = kNoon + minutes{dice.UpTo(600)};
    const bool taken = dice.UpTo(1) == 1;
    const auto life = [&](House& house, Instant now) {
      Asking& alarm = house.alarms[0];
      if (now < ends) return;
      alarm.rings = false;
      (taken ? alarm.taken : alarm.over) = ends;
    };
    House punctual{hearers, {Rings(severity)}, {}, {}}, often{hearers, {Rings(severity)}, {}, {}};
    std::optional<Instant> next = kNoon;
    for (Instant now = kNoon; now <= kNoon + days{2}; now += minutes{1}) {
      life(often, now);
      often.Look(now);
      life(punctual, now);
      if (now == ends || (next && now >= *next)) next = punctual.Look(now);
    }
    INFO("seed " << seed);
    CHECK(often.told == punctual.told);
    std::set<std::tuple<std::string, NoticeKind, int>> once;
    std::map<std::string, Instant> first;
    for (const auto& [at, notice] : often.told) {
      CHECK(once.emplace(notice.hearer, notice.kind, notice.nth).second);
      const auto hearer =
          std::find_if(hearers.begin(), hearers.end(), [&](const Hearer& one) { return one.name == notice.hearer; });
      CHECK(hearer->least <= severity);
      if (notice.kind == NoticeKind::kRings) {
        first.emplace(notice.hearer, at);
        CHECK(at < ends);
        if (severity < Severity::kAct) CHECK(!QuietUntil(*hearer, kHome.zone, at));
      } else {
        CHECK(first.contains(notice.hearer));  // nobody hears the end of what they never heard of
      }
      if (notice.kind == NoticeKind::kAgain && severity != Severity::kUrgent) {
        CHECK(severity == Severity::kAct);
        CHECK(Called(hearers, severity).size() == 1);
      }
    }
    // Whoever may hear has heard of what lasted long enough to need a hand.
    if (severity >= Severity::kAct && ends > kNoon + kAllAfter) {
      const bool somebody =
          std::any_of(hearers.begin(), hearers.end(), [&](const Hearer& one) { return one.least <= severity; });
      CHECK(!first.empty() == somebody);
      if (!first.empty()) CHECK(first.begin()->second >= kNoon);
    }
  }
}

namespace {

// What was said is read back from the disk at a restart, in whatever order it lay there.
Said ReadBack(const std::vector<std::pair<Instant, Notice>>& told) {
  Said said;
  for (auto one = told.rbegin(); one != told.rend(); ++one) said.Add({one->second, one->first, false});
  return said;
}

}  // namespace

TEST_CASE("over a thousand houses: by 45 minutes all are called who are to come, in their order, restarts or not") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    Dice dice(seed);
    const auto severity = dice.UpTo(1) ? Severity::kAct : Severity::kUrgent;
    House house{dice.Hearers(true), {Rings(severity)}, {}, {}};
    const int most_between = 1 + dice.UpTo(9);
    for (Instant now = kNoon; now <= kNoon + hours{2}; now += minutes{1 + dice.UpTo(most_between - 1)}) {
      if (dice.UpTo(4) == 0) house.said = ReadBack(house.told);
      house.Look(now);
    }
    INFO("seed " << seed);
    const std::vector<std::string> called = Called(house.hearers, severity);
    std::map<std::string, Instant> first;
    for (const auto& [at, notice] : house.told)
      if (notice.kind == NoticeKind::kRings) CHECK(first.emplace(notice.hearer, at).second);
    CHECK(first.size() == called.size());
    for (std::size_t place = 0; place < called.size(); ++place) {
      const Instant due = kNoon + (place == 0 ? minutes{0} : place == 1 ? kNextKeeperAfter : kAllAfter);
      REQUIRE(first.contains(called[place]));
      CHECK(first.at(called[place]) >= due);
      CHECK(first.at(called[place]) < due + minutes{most_between});
    }
  }
}

TEST_CASE("over a thousand houses whose clock is set at random: nothing is said twice, and all are called in the end") {
  for (unsigned seed = 1; seed <= Seeds(); ++seed) {
    Dice dice(seed);
    const auto severity = static_cast<Severity>(1 + dice.UpTo(3));
    House house{dice.Hearers(false), {Rings(severity)}, {}, {}};
    Instant now = kNoon;
    for (int look = 0; look < 60; ++look) {
      if (dice.UpTo(5) == 0) house.said = ReadBack(house.told);
      house.Look(now);
      now += dice.UpTo(9) == 0 ? minutes{dice.UpTo(2880) - 1440} : minutes{1 + dice.UpTo(4)};
    }
    // Nobody sets it any more.
    for (int minute = 0; minute <= 45; ++minute, now += minutes{1}) house.Look(now);
    INFO("seed " << seed);
    std::set<std::tuple<std::string, NoticeKind, int>> once;
    std::set<std::string> rang;
    for (const auto& [at, notice] : house.told) {
      CHECK(once.emplace(notice.hearer, notice.kind, notice.nth).second);
      if (notice.kind == NoticeKind::kRings) rang.insert(notice.hearer);
      const auto hearer = std::ranges::find(house.hearers, notice.hearer, &Hearer::name);
      CHECK(hearer->least <= severity);
      if (severity < Severity::kAct) CHECK(!QuietUntil(*hearer, kHome.zone, at));
    }
    const std::vector<std::string> called = Called(house.hearers, severity);
    if (severity >= Severity::kAct) CHECK(rang == std::set<std::string>(called.begin(), called.end()));
  }
}

}  // namespace rindwatch::rules
