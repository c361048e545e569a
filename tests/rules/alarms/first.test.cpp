// By what the first three steps of an alarm go. Invented alarms.
#include "rules/alarms/first.hpp"

#include "tests/catch.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

const Instant kSince = std::chrono::sys_days{std::chrono::year{2026} / 3 / 12};

Alarm Of(AlarmKind kind, CaveId cave = 1) {
  Alarm alarm{};
  alarm.id = std::string(ToText(kind)) + std::to_string(cave);
  alarm.kind = kind;
  alarm.cave = cave;
  alarm.since = alarm.raised = kSince;
  return alarm;
}

std::string_view Known(const Alarm& alarm, std::string_view called, std::vector<Alarm> beside, Millis after) {
  beside.push_back(alarm);
  return ToText(KnownOf(alarm, called, beside, {}, kSince + after));
}

}  // namespace

TEST_CASE("at first nothing is known of warm air; after two hours it has lasted long") {
  const Alarm warm = Of(AlarmKind::kTooWarm);
  CHECK(Known(warm, "", {}, hours{1}).empty());
  CHECK(Known(warm, "", {}, minutes{119}).empty());
  CHECK(Known(warm, "", {}, hours{2}) == "long");
  CHECK(Known(warm, "other", {}, hours{1}).empty());
  CHECK(Known(warm, "other", {}, hours{3}) == "long");
}

TEST_CASE("warm air that comes to wheels within the hour presses: they are seen to at once") {
  Alarm warm = Of(AlarmKind::kTooWarm);
  warm.matters = {{minutes{10}, minutes{60}, {1}}, {hours{3}, hours{5}, {2}}};
  CHECK(Known(warm, "", {}, minutes{5}) == "press");
  CHECK(Known(warm, "", {}, hours{2}) == "long");
  // What comes at the soonest counts, where it comes at all.
  warm.matters = {{minutes{60}, hours{3}, {1}}};
  CHECK(Known(warm, "", {}, minutes{5}) == "press");
  warm.matters = {{minutes{75}, hours{3}, {1}}, {minutes{10}, {}, {2}}};
  CHECK(Known(warm, "", {}, minutes{100}).empty());
  warm.severity = Severity::kUrgent;
  CHECK(Known(warm, "", {}, minutes{60}) == "press");
  // What the keeper or another alarm says comes before.
  CHECK(Known(warm, "door", {}, minutes{60}) == "door");
  CHECK(Known(warm, "", {Of(AlarmKind::kPlantWeak)}, minutes{60}) == "plant");
}

TEST_CASE("what the keeper says it was comes before what the watch sees, and holds") {
  Alarm warm = Of(AlarmKind::kTooWarm);
  warm.taken = kSince + hours{1};
  const Alarm weak = Of(AlarmKind::kPlantWeak);
  for (const char* said : {"door", "delivery", "defrost", "plant", "probe", "power"}) {
    CHECK(Known(warm, said, {weak}, hours{2}) == said);
  }
  // What ought to be over by then is something else.
  for (const char* said : {"door", "delivery", "defrost"}) CHECK(Known(warm, said, {weak}, hours{3}) == "long");
  for (const char* said : {"plant", "probe", "power"}) CHECK(Known(warm, said, {weak}, hours{9}) == said);
}

TEST_CASE("what stands beside it in the same cave tells: power, then the door, then the plant") {
  const Alarm warm = Of(AlarmKind::kTooWarm), weak = Of(AlarmKind::kPlantWeak), power = Of(AlarmKind::kPowerGone);
  Alarm door = Of(AlarmKind::kDoorOpen);
  door.why = Why::kContact;
  CHECK(Known(warm, "", {weak}, hours{5}) == "plant");
  CHECK(Known(warm, "", {weak, door}, hours{5}) == "door");
  CHECK(Known(warm, "", {weak, door, power}, hours{5}) == "power");
  door.why = Why::kAfterRound;
  CHECK(Known(warm, "", {door}, minutes{30}) == "ajar");
  CHECK(Known(door, "", {}, minutes{30}) == "ajar");
  Alarm over = weak;
  over.over = kSince + hours{1};
  CHECK(Known(warm, "", {over, Of(AlarmKind::kPlantWeak, 2)}, hours{1}).empty());
}

TEST_CASE("once the air is back inside nothing has to be carried, whatever it was and however long it took") {
  const Alarm warm = Of(AlarmKind::kTooWarm), power = Of(AlarmKind::kPowerGone);
  CHECK(KnownOf(warm, "", {warm}, Knowing::kBack, kSince + hours{5}) == Knowing::kBack);
  CHECK(KnownOf(warm, "plant", {warm}, Knowing::kBack, kSince + hours{1}) == Knowing::kBack);
  CHECK(KnownOf(warm, "plant", {warm}, Knowing::kTurning, kSince + hours{5}) == Knowing::kTurning);
  CHECK(KnownOf(power, "", {power}, Knowing::kBack, kSince + hours{1}) == Knowing::kNothing);
}

TEST_CASE("a silent probe or gas is seen to in the same way whatever was said") {
  for (const AlarmKind kind : {AlarmKind::kProbeSilent, AlarmKind::kCarbonDioxide, AlarmKind::kPowerGone}) {
    Alarm alarm = Of(kind);
    alarm.severity = Severity::kAct;
    CHECK(Known(alarm, "door", {Of(AlarmKind::kPlantWeak)}, hours{9}).empty());
  }
}

TEST_CASE("back inside is what had left its band and lies in it by the deadband, or on its way further in") {
  Alarm warm = Of(AlarmKind::kTooWarm);
  warm.band = Figure{10.5, 14.5, ""};
  warm.extreme = 16;
  CHECK(IsBackInside(warm, 13.9, 0, {}));
  CHECK(IsBackInside(warm, 14.3, -1, {}));
  CHECK_FALSE(IsBackInside(warm, 14.3, 0, {}));
  CHECK_FALSE(IsBackInside(warm, 14.3, 1, {}));
  CHECK_FALSE(IsBackInside(warm, 14.6, -1, {}));
  CHECK_FALSE(IsBackInside(warm, 10.2, -1, {}));  // through and out on the other side
  warm.extreme = 14.4;                            // it rang by not turning, and never was out
  CHECK_FALSE(IsBackInside(warm, 13.9, 0, {}));
  warm.extreme = 16;
  warm.why = Why::kOneProbe;
  CHECK_FALSE(IsBackInside(warm, 13.9, 0, {}));
  Alarm dry = Of(AlarmKind::kTooDry);
  dry.band = Figure{80, 90, ""};
  dry.extreme = 70;
  CHECK(IsBackInside(dry, 83, 0, {}));
  CHECK(IsBackInside(dry, 80.5, 1, {}));
  CHECK_FALSE(IsBackInside(dry, 80.5, -1, {}));
  // What is drier than it used to be waits for no figure of its band.
  dry.why = Why::kBelowNormal;
  CHECK(IsBackInside(dry, 80.5, 0, {}));
  CHECK_FALSE(IsBackInside(dry, 79.5, 0, {}));
  dry.over = kSince + hours{1};
  CHECK_FALSE(IsBackInside(dry, 83, 0, {}));
  CHECK_FALSE(IsBackInside(Of(AlarmKind::kCarbonDioxide), 400, 0, {}));
}

TEST_CASE("air that is back in its band, and not yet as far in as the alarm waits for, has a figure at which it ends") {
  Alarm damp = Of(AlarmKind::kTooDamp);
  damp.band = Figure{80, 95, ""};
  damp.extreme = 97;
  CHECK(EndsAt(damp, 94, {}) == 93);
  CHECK(EndsAt(damp, 93.1, {}) == 93);
  CHECK_FALSE(EndsAt(damp, 93, {}));
  CHECK_FALSE(EndsAt(damp, 95.1, {}));
  CHECK(EndsAt(damp, 92.5, SettingsWith({{"over: inside by, humidity", 3}})) == 92);
  CHECK_FALSE(IsBackInside(damp, 92.5, 0, SettingsWith({{"over: inside by, humidity", 3}})));
  damp.extreme = 94;
  CHECK_FALSE(EndsAt(damp, 94, {}));
  Alarm cold = Of(AlarmKind::kTooCold);
  cold.band = Figure{11, 12, ""};  // of a narrow band a quarter
  cold.extreme = 9;
  CHECK(EndsAt(cold, 11.2, {}) == 11.25);
  CHECK_FALSE(EndsAt(cold, 11.3, {}));
  CHECK(EndsAt(cold, 11.3, SettingsWith({{"over: inside by, of a narrow band", 0.4}})) == 11.4);
  cold.over = kSince;
  CHECK_FALSE(EndsAt(cold, 11.2, {}));
}

TEST_CASE("air outside that moves towards its band is on its way; the other way, or at rest, it is not") {
  Alarm warm = Of(AlarmKind::kTooWarm);
  warm.band = Figure{10.5, 14.5, ""};
  warm.extreme = 20;
  CHECK(CourseOf(warm, 19, -1, {}) == Knowing::kTurning);
  CHECK(CourseOf(warm, 14.2, -1, {}) == Knowing::kBack);
  CHECK_FALSE(CourseOf(warm, 19, 0, {}));
  CHECK_FALSE(CourseOf(warm, 19, 1, {}));
  Alarm cold = Of(AlarmKind::kTooCold);
  cold.band = warm.band;
  cold.extreme = 5;
  CHECK(CourseOf(cold, 7, 1, {}) == Knowing::kTurning);
  CHECK_FALSE(CourseOf(cold, 7, -1, {}));
  CHECK_FALSE(CourseOf(Of(AlarmKind::kProbeSilent), 7, 1, {}));
}

TEST_CASE("a door that may be ajar is not looked at for hours, nor before wheels that are near their end") {
  Alarm warm = Of(AlarmKind::kTooWarm), door = Of(AlarmKind::kDoorOpen);
  door.why = Why::kAfterRound;
  CHECK(Known(warm, "", {door}, minutes{30}) == "ajar");
  CHECK(Known(warm, "", {door}, hours{2}) == "long");
  warm.matters = {{minutes{30}, hours{1}, {1}}};
  CHECK(Known(warm, "", {door}, minutes{30}) == "press");
  door.why = Why::kContact;
  CHECK(Known(warm, "", {door}, minutes{30}) == "door");
}

TEST_CASE("gas comes before every other step, a contact's word before what the watch guesses, cold cheese stays cold") {
  const auto known = [](const Alarm& alarm, const Place& place) {
    return KnownOf(alarm, "", {alarm}, {}, kSince + minutes{10}, place);
  };
  for (const AlarmKind kind : {AlarmKind::kTooWarm, AlarmKind::kTooDamp, AlarmKind::kPowerGone, AlarmKind::kProbeSilent,
                               AlarmKind::kDoorOpen}) {
    CHECK(known(Of(kind), {.gas = true}) == Knowing::kGas);
    CHECK(known(Of(kind), {}) == Knowing::kNothing);
  }
  // Of gas itself by how much of it there is.
  Alarm gas = Of(AlarmKind::kCarbonDioxide);
  for (const auto& [severity, knowing] : {std::pair{Severity::kWatch, Knowing::kStale},
                                          {Severity::kAct, Knowing::kNothing},
                                          {Severity::kUrgent, Knowing::kDanger}}) {
    gas.severity = severity;
    CHECK(known(gas, {.gas = true}) == knowing);
  }
  Alarm dry = Of(AlarmKind::kTooDry);
  dry.cause = AlarmKind::kHumidifierDry;
  CHECK(known(dry, {}) == Knowing::kWater);
  CHECK(known(Of(AlarmKind::kTooCold), {.ready = true}) == Knowing::kReady);
  CHECK(known(Of(AlarmKind::kTooWarm), {.ready = true}) == Knowing::kReady);
  CHECK(known(Of(AlarmKind::kTooDry), {.ready = true}) == Knowing::kReady);
  CHECK(known(Of(AlarmKind::kDoorOpen), {.ready = true}) == Knowing::kNothing);
  CHECK(known(Of(AlarmKind::kPowerGone), {.unheard = true}) == Knowing::kUnheard);
  CHECK(known(Of(AlarmKind::kPowerGone), {.gas = true, .unheard = true}) == Knowing::kGas);
  Alarm warm = Of(AlarmKind::kTooWarm);
  warm.id = "warm";
  warm.severity = Severity::kAct;
  const auto dark = [&] {
    const Alarm power = Of(AlarmKind::kPowerGone);
    return KnownOf(power, "", {power, warm}, {}, kSince + minutes{10}, {});
  };
  CHECK(dark() == Knowing::kPress);  // nothing cold is left in there
  warm.inside_since = kSince;
  CHECK(dark() == Knowing::kNothing);
  warm.inside_since.reset();
  warm.severity = Severity::kWatch;
  CHECK(dark() == Knowing::kNothing);
  Alarm step = Of(AlarmKind::kTooWarm);
  step.why = Why::kPlanStep;
  CHECK(known(step, {}) == Knowing::kStep);
  CHECK(known(step, {.apart = true}) == Knowing::kApart);
  Alarm creeps = Of(AlarmKind::kPlantWeak);
  creeps.why = Why::kDayMeanUp;
  CHECK(known(creeps, {}) == Knowing::kCreeps);
}

}  // namespace rindwatch::rules
