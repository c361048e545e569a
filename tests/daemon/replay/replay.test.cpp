// The rules again over what a real store kept: identical to what rang when nothing was changed, and what would have
// rung with other limits.
#include "daemon/replay/replay.hpp"

#include <random>
#include <set>
#include "daemon/book/facts.hpp"
#include "daemon/replay/rang.hpp"
#include "daemon/replay/report_json.hpp"
#include "daemon/replay/runner.hpp"
#include "daemon/replay/sentences.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"
#include "tests/daemon/watch/day_and_a_half.hpp"

namespace rindwatch {
namespace {

using namespace testing;
using std::chrono::minutes;

const std::atomic<bool> kGoOn{false};

// The invented day and a half, with its mishaps, in a database of its own.
class Lived {
 public:
  explicit Lived(int kill_after_each = 0) {
    Living living(Path());
    int n = 0;
    for (const Happening& happening : DayAndAHalf()) {
      living.Live(happening);
      if (kill_after_each > 0 && ++n % kill_after_each == 0) living.Kill();
    }
    journal = living.House().Journal();
    for (const JournalLine& line : journal) {
      const std::vector<Fact> facts = FactsOf(line);
      for (const Fact& fact : facts) book_.Take(line, fact);
    }
  }
  const Book& TheBook() const { return book_; }
  std::string Path() const { return folder_ / "rind.db"; }
  ReplayCall Call() const {
    return {.from = kThursday, .to = kThursday + 48h, .cave = {}, .other = {}, .whole = false};
  }
  ReplayReport Replayed(const ReplayCall& call) const { return Replay(Path(), Vienna(), call, kGoOn); }
  std::vector<JournalLine> journal;

 private:
  TempFolder folder_;
  Book book_{Vienna()};
};

std::vector<std::string> IdsOf(const std::vector<Rung>& alarms) {
  std::vector<std::string> ids;
  for (const Rung& alarm : alarms) ids.push_back(alarm.id);
  return ids;
}

TEST_CASE("a replay with nothing changed is identical to what rang, line by line") {
  const Lived lived;
  const ReplayReport report = lived.Replayed(lived.Call());
  CHECK(report.differences.empty());
  CHECK(report.then.size() >= 3);
  CHECK(IdsOf(report.now) == IdsOf(report.then));
  for (std::size_t i = 0; i < report.now.size(); ++i) {
    CAPTURE(report.now[i].id);
    CHECK(report.now[i].severity == report.then[i].severity);
    CHECK(report.now[i].told == report.then[i].told);
    CHECK(report.now[i].over == report.then[i].over);
    // The journal keeps figures as JSON, which reads back to within the last digit.
    CHECK(report.now[i].extreme == Approx(report.then[i].extreme));
    CHECK(report.now[i].dose == Approx(report.then[i].dose));
    CHECK(report.now[i].called == report.then[i].called);
  }
}

TEST_CASE("a replay of a watch that was killed again and again is identical too") {
  const Lived lived(7);
  CHECK(lived.Replayed(lived.Call()).differences.empty());
}

TEST_CASE("a replay of a watch that was killed or stopped at random, and was away for hours, is identical too") {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto one_in = [&random](unsigned n) { return random() % n == 0; };
    TempFolder folder;
    {
      Living living(folder / "rind.db");
      const std::vector<Happening> day = DayAndAHalf();
      for (const Happening& happening : day) {
        // What would have happened while it was away did not.
        if (kThursday + happening.at < living.House().Now()) continue;
        try {
          living.Live(happening);
        } catch (const std::exception&) {
          // An act upon what does not ring this time.
        }
        if (one_in(9)) living.Kill(one_in(3) ? rules::Millis{minutes{random() % 300}} : rules::Millis{0});
        if (one_in(9)) living.StopAndStart();
      }
    }
    const ReplayCall call{.from = kThursday, .to = kThursday + 48h, .cave = {}, .other = {}, .whole = false};
    CHECK(Replay(folder / "rind.db", Vienna(), call, kGoOn).differences.empty());
  }
}

TEST_CASE("what stands for longer than anything is learned from ends in a replay of its last days as it did") {
  TempFolder folder;
  std::string silent;
  {
    Living living(folder / "rind.db");
    Household& house = living.House();
    house.Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
    house.Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
    for (rules::Millis at = 10min; at <= 5h; at += 10min) {
      house.StepTo(kThursday + at);
      house.Reads(12.5, 85);
    }
    house.StepTo(kThursday + 10h);
    silent = AlarmOf(house, rules::AlarmKind::kProbeSilent);
    house.StepTo(kThursday + 60 * 24h);
    house.Do("take", {{"alarm", silent}});
    for (rules::Millis at = 10min; at <= 5h; at += 10min) {
      house.StepTo(kThursday + 60 * 24h + at);
      house.Reads(12.5, 85);
    }
  }
  const rules::Instant last_days = kThursday + 58 * 24h;
  const ReplayCall call{.from = last_days, .to = last_days + 72h, .cave = {}, .other = {}, .whole = false};
  const ReplayReport report = Replay(folder / "rind.db", Vienna(), call, kGoOn);
  CAPTURE(report.differences);
  CHECK(report.differences.empty());
  CHECK(report.worked_out_from <= kThursday + 10h);
}

TEST_CASE("a replay can begin in the middle and end before the end") {
  const Lived lived;
  ReplayCall call = lived.Call();
  call.from = kThursday + 13h;
  call.to = kThursday + 18h;
  const ReplayReport report = lived.Replayed(call);
  CHECK(report.differences.empty());
  for (const Rung& alarm : report.now) {
    CHECK(alarm.raised >= call.from);
    CHECK(alarm.raised < call.to);
  }
  CHECK(report.now.size() < lived.Replayed(lived.Call()).now.size());
}

TEST_CASE("with wider limits nothing of the air rings, and the door that was called one is not missed") {
  const Lived lived;
  ReplayCall call = lived.Call();
  call.other.push_back({.cave = {},
                        .temperature = rules::Figure{5, 30, "tried"},
                        .humidity = rules::Figure{40, 99, "tried"},
                        .settings = {},
                        .off = {rules::AlarmKind::kPlantWeak, rules::AlarmKind::kCondensation}});
  const ReplayReport report = lived.Replayed(call);
  CHECK(TallyOf(report.then).rang > TallyOf(report.now).rang);
  CHECK(report.compared.real.rang == 0);  // it was called a door
  CHECK(report.compared.called.at("door").rang == 1);
  CHECK(report.compared.called.at("door").still == 0);
  CHECK(report.differences.empty());
  for (const Rung& alarm : report.now) CHECK(alarm.kind == rules::AlarmKind::kProbeSilent);
}

TEST_CASE("a setting that is tried for another cave changes nothing in this one") {
  const Lived lived;
  ReplayCall call = lived.Call();
  call.other.push_back({.cave = 99,
                        .temperature = rules::Figure{5, 30, "tried"},
                        .humidity = {},
                        .settings = {{"silent: watch after", 600}},
                        .off = {}});
  const ReplayReport report = lived.Replayed(call);
  CHECK(IdsOf(report.now) == IdsOf(report.then));
}

TEST_CASE("what was struck is tried as judged again, and a typed band as that of the wheels again") {
  TempFolder folder;
  {
    Living living(folder / "rind.db");
    std::vector<Happening> day = DayAndAHalf();
    day.insert(day.begin() + 2,
               {1min, [](Household& house) {
                  house.SetActs(8000);
                  house.Do("limits", {{"cave", 1}, {"temperature", {{"low", 2}, {"high", 30}}}});
                  house.Do("watching",
                           {{"cave", 1}, {"settings", json::object{}}, {"off", {"too dry"}}, {"ready_cheese", false}});
                }});
    for (const Happening& happening : day) {
      try {
        living.Live(happening);
      } catch (const std::exception&) {
        // An act upon what does not ring with these limits.
      }
    }
  }
  ReplayCall call{.from = kThursday, .to = kThursday + 48h, .cave = {}, .other = {}, .whole = false};
  const auto kinds = [&](const OtherLimits& other) {
    call.other = {other};
    const ReplayReport report = Replay(folder / "rind.db", Vienna(), call, kGoOn);
    std::set<rules::AlarmKind> kinds_now;
    for (const Rung& rung : report.now) kinds_now.insert(rung.kind);
    return kinds_now;
  };
  OtherLimits other;
  CHECK_FALSE(kinds(other).contains(rules::AlarmKind::kTooWarm));
  CHECK_FALSE(kinds(other).contains(rules::AlarmKind::kTooDry));
  other.judged = {rules::AlarmKind::kTooDry};
  CHECK(kinds(other).contains(rules::AlarmKind::kTooDry));
  CHECK_FALSE(kinds(other).contains(rules::AlarmKind::kTooWarm));
  other.wheels_temperature = true;
  CHECK(kinds(other).contains(rules::AlarmKind::kTooWarm));
}

TEST_CASE("what the keeper called real is looked for in the replay") {
  TempFolder folder;
  {
    Living living(folder / "rind.db");
    for (Happening happening : DayAndAHalf()) {
      living.Live(happening);
      if (happening.at != 6h + 2min) continue;
      living.House().Do("called", {{"alarm", AlarmOf(living.House(), rules::AlarmKind::kTooWarm)}, {"what", "plant"}});
    }
  }
  ReplayCall call{.from = kThursday, .to = kThursday + 48h, .cave = {}, .other = {}, .whole = false};
  call.other.push_back(
      {.cave = {}, .temperature = {}, .humidity = {}, .settings = {{"over: back inside for", 30}}, .off = {}});
  ReplayReport report = Replay(folder / "rind.db", Vienna(), call, kGoOn);
  CHECK(report.compared.real.rang == 1);
  CHECK(report.compared.real.still == 1);
  CHECK(ReplaySentence(Words::English(), report, "").find("and rung for the one that you called real") !=
        std::string::npos);
  call.other[0].off = {rules::AlarmKind::kTooWarm, rules::AlarmKind::kPlantWeak, rules::AlarmKind::kDoorOpen};
  report = Replay(folder / "rind.db", Vienna(), call, kGoOn);
  CHECK(report.compared.real.rang == 1);
  CHECK(report.compared.real.still == 0);
}

TEST_CASE("what rang by the book alone is told in the keeper's words") {
  const Lived lived;
  const std::vector<Rung> rang = RangIn(lived.TheBook(), kThursday, kThursday + 48h, {});
  CHECK(IdsOf(rang) == IdsOf(lived.Replayed(lived.Call()).then));
  const Tally tally = TallyOf(rang);
  CHECK(tally.called.at("door") == 1);
  const std::string sentence = TallySentence(Words::English(), tally);
  CHECK(sentence.find("It rang ") == 0);
  CHECK(sentence.find("1 door") != std::string::npos);
}

TEST_CASE("book and replay count the same of every span, also where it cuts an alarm in two") {
  const Lived lived;
  for (rules::Millis from = 0h; from < 40h; from += 5h) {
    for (rules::Millis to = from + 1h; to <= 48h; to += 4h) {
      ReplayCall call = lived.Call();
      call.from = kThursday + from;
      call.to = kThursday + to;
      CAPTURE(from.count() / 3'600'000, to.count() / 3'600'000);
      const ReplayReport report = lived.Replayed(call);
      CHECK(report.differences.empty());
      CHECK(TallyJson(TallyOf(report.now)) == TallyJson(TallyOf(report.then)));
      // What rings on becomes louder after the span: the book of today knows that, the list of the span does not.
      if (to >= 40h) CHECK(IdsOf(RangIn(lived.TheBook(), call.from, call.to, {})) == IdsOf(report.now));
    }
  }
}

TEST_CASE("what the keeper took back is not said: of the month and of a replay alike") {
  TempFolder folder;
  std::string id;
  Tally month;
  {
    Living living(folder / "rind.db");
    for (const Happening& happening : DayAndAHalf()) living.Live(happening);
    const Book& book = living.House().TheBook();
    const std::vector<Rung> rang = RangIn(book, kThursday, kThursday + 48h, {});
    for (const Rung& alarm : rang) {
      if (alarm.called == "door") id = alarm.id;
    }
    REQUIRE_FALSE(id.empty());
    living.House().SetActs(9000);
    living.House().Do("called", {{"alarm", id}, {"what", "plant"}});
    living.House().Do("undo", {{"of", IdOf(9001)}});
    month = TallyOf(RangIn(book, kThursday, kThursday + 48h, {}));
  }
  const ReplayCall call{.from = kThursday, .to = kThursday + 48h, .cave = {}, .other = {}, .whole = false};
  const ReplayReport report = Replay(folder / "rind.db", Vienna(), call, kGoOn);
  CHECK(month.called.at("door") == 1);
  CHECK(TallyJson(TallyOf(report.now)) == TallyJson(month));
  CHECK(TallyJson(TallyOf(report.then)) == TallyJson(month));
}

TEST_CASE("a replay that is stopped says so") {
  const Lived lived;
  const std::atomic<bool> stop{true};
  CHECK_THROWS_AS(Replay(lived.Path(), Vienna(), lived.Call(), stop), ReplayStopped);
}

TEST_CASE("a replay runs beside the loop and is answered there") {
  const Lived lived;
  std::mutex mutex;
  std::condition_variable came;
  std::deque<std::function<void()>> posted;
  const ReplayRunner::Post post = [&](std::function<void()> task) {
    const std::lock_guard lock(mutex);
    posted.push_back(std::move(task));
    came.notify_one();
  };
  ReplayRunner runner(lived.Path(), Vienna(), post);
  std::optional<ReplayRunner::Answer> answer;
  REQUIRE(runner.Ask(lived.Call(), [&](ReplayRunner::Answer given) { answer = std::move(given); }));
  std::unique_lock lock(mutex);
  came.wait(lock, [&] { return !posted.empty(); });
  posted.front()();
  REQUIRE(answer);
  REQUIRE(answer->report);
  CHECK(answer->report->differences.empty());
}

TEST_CASE("the report as JSON holds both sides with their rates") {
  const Lived lived;
  const json::object report = ReportJson(lived.Replayed(lived.Call()), false);
  CHECK(report.at("identical").as_bool());
  CHECK(report.at("now").as_object().at("tally") == report.at("then").as_object().at("tally"));
  CHECK(report.at("now").as_object().at("rates").as_object().at("floods") == 0);
}

}  // namespace
}  // namespace rindwatch
