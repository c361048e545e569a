// What the alarms of a replay stand for, on invented alarms.
#include "daemon/replay/compared.hpp"

#include "tests/catch.hpp"

namespace rindwatch {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

const rules::Instant kBegin = rules::FromMillis(1'772'431'200'000);

// Act in cave 1, from `since` to `over`, as hours; called as said.
Rung Alarm(const std::string& id, rules::AlarmKind kind, int since, int over, const std::string& called = "") {
  Rung rung;
  rung.id = id;
  rung.kind = kind;
  rung.severity = rules::Severity::kAct;
  rung.cave = 1;
  rung.since = kBegin + hours{since};
  rung.raised = rung.since + minutes{30};
  rung.over = kBegin + hours{over};
  rung.called = called;
  return rung;
}
const auto kWarm = rules::AlarmKind::kTooWarm;

TEST_CASE("gas was real whatever made it, but where its probe was wrong") {
  for (const rules::AlarmKind gas : {rules::AlarmKind::kCarbonDioxide, rules::AlarmKind::kAmmonia}) {
    for (const char* what : {"shut", "fan", "rinds", "power", "other"}) CHECK(IsReal(gas, what));
    CHECK_FALSE(IsReal(gas, "probe"));
  }
  CHECK_FALSE(IsReal(kWarm, "shut"));
}

TEST_CASE("with nothing changed each alarm stands for itself, and what nobody named stays unnamed") {
  // Two of one kind, three hours apart: one was called a door, of the other nobody said what it was.
  const std::vector<Rung> then{Alarm("a", kWarm, 0, 2, "door"), Alarm("b", kWarm, 5, 7)};
  std::vector<Rung> now = then;
  const Compared compared = Compare(then, now);
  CHECK(now[0].called == "door");
  CHECK(now[1].called.empty());
  CHECK(compared.called.at("door").rang == 1);
  CHECK(compared.called.at("door").still == 1);
  CHECK(compared.unsaid.rang == 1);
  CHECK(compared.unsaid.still == 1);
  CHECK(compared.fresh == 0);
}

TEST_CASE("what no longer rings is no longer found, although another rang a little before") {
  const std::vector<Rung> then{Alarm("a", kWarm, 0, 2, "door"), Alarm("b", kWarm, 5, 7, "plant")};
  std::vector<Rung> now{then[0]};
  const Compared compared = Compare(then, now);
  CHECK(compared.called.at("door").still == 1);
  CHECK(compared.real.rang == 1);
  CHECK(compared.real.still == 0);
}

TEST_CASE("what rings later, or under another name for warm air, stands for the same event and is called so") {
  const std::vector<Rung> then{Alarm("a", kWarm, 0, 4, "door")};
  std::vector<Rung> now{Alarm("later", kWarm, 3, 5)};
  Compared compared = Compare(then, now);
  CHECK(compared.called.at("door").still == 1);
  CHECK(compared.fresh == 0);
  CHECK(now[0].called == "door");
  now = {Alarm("other name", rules::AlarmKind::kDoorOpen, 1, 2)};
  compared = Compare(then, now);
  CHECK(compared.called.at("door").still == 1);
  CHECK(now[0].called.empty());  // a door that stood open is real, a door that warmed the air is not: not for us to say
  // An hour after it was over, too, where nothing else is nearer.
  now = {Alarm("after", kWarm, 5, 6)};
  CHECK(Compare(then, now).called.at("door").still == 1);
  now = {Alarm("long after", kWarm, 11, 12)};
  CHECK(Compare(then, now).called.at("door").still == 0);
}

TEST_CASE("one long alarm stands for each that it covers") {
  const std::vector<Rung> then{Alarm("a", kWarm, 0, 2, "door"), Alarm("b", kWarm, 5, 7, "door"),
                               Alarm("c", kWarm, 40, 41, "plant")};
  std::vector<Rung> now{Alarm("long", kWarm, 0, 8)};
  const Compared compared = Compare(then, now);
  CHECK(compared.called.at("door").rang == 2);
  CHECK(compared.called.at("door").still == 2);
  CHECK(compared.real.still == 0);
  CHECK(compared.fresh == 0);
}

TEST_CASE("a quiet notice is no ring, neither then nor with other limits") {
  std::vector<Rung> then{Alarm("a", kWarm, 0, 2, "door"), Alarm("b", kWarm, 20, 22, "door")};
  then[1].severity = rules::Severity::kWatch;
  std::vector<Rung> now = then;
  now[0].severity = rules::Severity::kWatch;  // with these limits it would have been told quietly
  now[1].severity = rules::Severity::kAct;    // and this one would have rung
  const Compared compared = Compare(then, now);
  CHECK(compared.called.at("door").rang == 1);
  CHECK(compared.called.at("door").still == 0);
  CHECK(compared.fresh == 1);
}

TEST_CASE("another cave, another probe and another matter are other alarms") {
  std::vector<Rung> then{Alarm("a", kWarm, 0, 2)};
  std::vector<Rung> now{Alarm("x", kWarm, 0, 2)};
  now[0].cave = 2;
  CHECK(Compare(then, now).unsaid.still == 0);
  CHECK(Compare(then, now).fresh == 1);
  now[0].cave = 1;
  now[0].kind = rules::AlarmKind::kTooDry;
  CHECK(Compare(then, now).unsaid.still == 0);
  then[0].kind = now[0].kind = rules::AlarmKind::kProbeSilent;
  then[0].probe = 1;
  now[0].probe = 2;
  CHECK(Compare(then, now).unsaid.still == 0);
  now[0].probe = 1;
  CHECK(Compare(then, now).unsaid.still == 1);
}

TEST_CASE("what has not ended goes on, and what rings days later stands for it") {
  std::vector<Rung> then{Alarm("a", kWarm, 0, 2)};
  then[0].over.reset();
  std::vector<Rung> now{Alarm("x", kWarm, 60, 61)};
  CHECK(Compare(then, now).unsaid.still == 1);
}

}  // namespace
}  // namespace rindwatch
