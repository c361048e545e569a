// Of two watches that live the same day, one killed and started again between two inputs, the journals are equal but
// for the lines that say that it began.
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "daemon/watch/watch.hpp"
#include "rules/alarms/version.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"
#include "tests/daemon/watch/day_and_a_half.hpp"

namespace rindwatch {
namespace {

using namespace testing;

// What a watch tells that nobody disturbs.
const std::vector<std::string>& Undisturbed() {
  static const std::vector<std::string> told = [] {
    TempFolder folder;
    Living living(folder / "rind.db");
    for (const Happening& happening : DayAndAHalf()) living.Live(happening);
    return Told(living.House().Journal());
  }();
  return told;
}

bool Holds(const std::vector<std::string>& told, const std::string& part) {
  return std::ranges::any_of(told, [&](const std::string& line) { return line.find(part) != std::string::npos; });
}

// Where the two begin to differ, for a message that can be read.
std::string Difference(const std::vector<std::string>& told) {
  const auto& expected = Undisturbed();
  for (std::size_t n = 0; n < std::max(told.size(), expected.size()); ++n) {
    const std::string is = n < told.size() ? told[n] : "nothing";
    const std::string should = n < expected.size() ? expected[n] : "nothing";
    if (is != should) return "line " + std::to_string(n) + "\n  is:     " + is + "\n  should: " + should;
  }
  return "";
}

// Whether an alarm changed in the span after a happening.
bool IsQuiet(std::size_t after, rules::Millis span) {
  const auto day = DayAndAHalf();
  const rules::Instant from = kThursday + day[after].at, to = from + span;
  if (after + 1 < day.size() && kThursday + day[after + 1].at <= to) return false;
  return std::ranges::none_of(Undisturbed(), [&](const std::string& line) {
    return line.find(" alarm ") != std::string::npos && line.substr(0, 24) > rules::ToText(from) &&
           line.substr(0, 24) <= rules::ToText(to);
  });
}

TEST_CASE("the day holds what a restart could spoil") {
  const auto& told = Undisturbed();
  CHECK(Holds(told, R"("change":"raised","alarm":"too-warm)"));
  CHECK(Holds(told, R"("change":"raised severity")"));
  CHECK(Holds(told, R"("change":"over","alarm":"too-warm)"));
  CHECK(Holds(told, R"("change":"raised","alarm":"probe-silent)"));
  CHECK(Holds(told, R"("change":"over","alarm":"probe-silent)"));
  CHECK(Holds(told, R"("change":"raised","alarm":"too-dry)"));
  CHECK(Holds(told, R"("change":"back","alarm":"too-dry)"));
  CHECK(Holds(told, " undo "));
}

TEST_CASE("a watch that is killed after every single input tells the same") {
  TempFolder folder;
  Living living(folder / "rind.db");
  for (const Happening& happening : DayAndAHalf()) {
    living.Live(happening);
    living.Kill();
  }
  CHECK(Difference(Told(living.House().Journal())) == "");
}

TEST_CASE("a watch that is killed once, at whatever input, tells the same") {
  const auto day = DayAndAHalf();
  // Every so often, so that the kills fall before, into and after each alarm and at all distances from a snapshot.
  for (std::size_t cut = 3; cut < day.size(); cut += 19) {
    CAPTURE(cut);
    TempFolder folder;
    Living living(folder / "rind.db");
    for (std::size_t n = 0; n < day.size(); ++n) {
      living.Live(day[n]);
      if (n == cut) living.Kill();
    }
    CHECK(Difference(Told(living.House().Journal())) == "");
  }
}

TEST_CASE("a minute without a watch, in which nothing would have been decided, changes nothing") {
  const auto day = DayAndAHalf();
  TempFolder folder;
  Living living(folder / "rind.db");
  int kills = 0;
  for (std::size_t n = 0; n < day.size(); ++n) {
    living.Live(day[n]);
    if (n % 3 != 0 || !IsQuiet(n, 1min)) continue;
    living.Kill(1min);
    ++kills;
  }
  CHECK(kills > 40);
  CHECK(Difference(Told(living.House().Journal())) == "");
}

TEST_CASE("a watch that is stopped and started now and then tells the same") {
  const auto day = DayAndAHalf();
  TempFolder folder;
  Living living(folder / "rind.db");
  for (std::size_t n = 0; n < day.size(); ++n) {
    living.Live(day[n]);
    if (n % 11 == 0) living.StopAndStart();
  }
  CHECK(Difference(Told(living.House().Journal())) == "");
}

TEST_CASE("without its saved state a watch knows what has stood for months by its name, and that it was taken") {
  TempFolder folder;
  Living living(folder / "rind.db");
  living.House().Do("probe", AirProbe("Fridge air", "fridge/air", NewCave("fridge")));
  living.House().Do("enter", InTheBox(PressedWheels(2, InCave(1), 5), 2));
  const auto reads = [&living](rules::Millis from) {
    for (rules::Millis at = 10min; at <= 5h; at += 10min) {
      living.House().StepTo(kThursday + from + at);
      living.House().Reads(12.5, 85);
    }
  };
  reads(0min);
  living.House().StepTo(kThursday + 10h);
  const std::string silent = AlarmOf(living.House(), rules::AlarmKind::kProbeSilent);
  living.House().Do("take", {{"alarm", silent}});
  living.House().StepTo(kThursday + 60 * 24h);
  living.Kill();
  // As after an update whose rules do not read the state of those before.
  REQUIRE(RunSql(folder / "rind.db", "DELETE FROM snapshot") == "");
  living.Kill();
  REQUIRE(living.House().TheWatch().Engine().Alarms().size() == 1);
  CHECK(living.House().TheWatch().Engine().Alarms()[0].id == silent);
  CHECK(living.House().TheWatch().Engine().Alarms()[0].taken);
  reads(60 * 24h);
  CHECK(living.House().TheWatch().Engine().Alarms().empty());
  const auto told = Told(living.House().Journal());
  CHECK(Holds(told, R"("change":"over","alarm":")" + silent));
}

// The child lives the day up to `cut` and is gone from one instruction to the next.
void LiveAndBeKilled(const std::string& database, std::size_t cut) {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    try {
      const auto day = DayAndAHalf();
      Living living(database);
      for (std::size_t n = 0; n <= cut; ++n) living.Live(day[n]);
      raise(SIGKILL);
    } catch (...) {
    }
    _exit(1);
  }
  int status = 0;
  waitpid(child, &status, 0);
  REQUIRE(WIFSIGNALED(status));
}

TEST_CASE("a watch whose process is killed by SIGKILL tells the same") {
  const auto day = DayAndAHalf();
  for (const std::size_t cut : {std::size_t{24}, std::size_t{45}, std::size_t{90}, std::size_t{150}}) {
    CAPTURE(cut);
    TempFolder folder;
    LiveAndBeKilled(folder / "rind.db", cut);
    Household house(folder / "rind.db", kThursday + day[cut].at);
    house.Begin();
    for (std::size_t n = cut + 1; n < day.size(); ++n) {
      house.StepTo(kThursday + day[n].at);
      day[n].what(house);
    }
    CHECK(Difference(Told(house.Journal())) == "");
  }
}

TEST_CASE("each start says by which rules it judges, and since when nobody watched; the first says nothing of that") {
  TempFolder folder;
  Living living(folder / "rind.db");
  living.Live(DayAndAHalf()[0]);
  living.Kill(5min);
  std::vector<json::value> starts;
  for (const JournalLine& line : living.House().Journal()) {
    if (line.kind != "started") continue;
    const json::value body = json::parse(line.body);
    starts.push_back(body.as_object().at("watched_until"));
    CHECK(body.as_object().at("rules") == rules::kRulesVersion);
  }
  CHECK(starts == std::vector<json::value>{nullptr, ToMillis(kThursday)});
}

TEST_CASE("a silence counts on after a brief absence of the watch, without it") {
  TempFolder folder;
  const auto day = DayAndAHalf();
  Living living(folder / "rind.db");
  // The probe's last word, 40 minutes of silence, then nine minutes without a watch, of which nobody knows.
  std::size_t n = 0;
  for (; day[n].at < 14h; ++n) living.Live(day[n]);
  const rules::Instant spoke = living.House().Now();
  living.House().StepTo(spoke + 40min);
  living.House().Do("note", {{"text", "Quiet here."}});
  living.Kill(9min);
  CHECK(living.House().TheWatch().Engine().Alarms().empty());
  living.House().StepTo(spoke + 55min);
  const auto alarms = living.House().TheWatch().Engine().Alarms();
  const auto silent = std::ranges::find(alarms, rules::AlarmKind::kProbeSilent, &rules::Alarm::kind);
  REQUIRE(silent != alarms.end());
  CHECK_FALSE(silent->found_later);
  CHECK(silent->raised == spoke + 54min);
}

}  // namespace
}  // namespace rindwatch
