// What stood by the word of a probe alone, once that was taken down or moved: nobody says any more how it is. Invented.
#include <algorithm>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

constexpr ChannelId kOwn = 16;

// Of the first decision that ends it.
const Alarm* Ended(const Scene& scene, AlarmKind kind) {
  const auto over = std::ranges::find_if(
      scene.decisions, [kind](const Decision& one) { return one.alarm.kind == kind && one.alarm.over; });
  return over == scene.decisions.end() ? nullptr : &over->alarm;
}

bool AnyStands(const Scene& scene) {
  const auto alarms = scene.state.Alarms();
  return std::ranges::any_of(alarms, [](const Alarm& alarm) { return !alarm.over; });
}

void CheckNotJudged(const Scene& scene, AlarmKind kind) {
  const Alarm* over = Ended(scene, kind);
  REQUIRE(over);
  CHECK(over->ending == Ending::kTakenDown);
}

}  // namespace

TEST_CASE("gas whose probe was moved is no longer judged in its place, and begins anew in the other") {
  Scene scene;
  scene.Give(Scene::kRoom).Give(Scene::kFridge).HangChannel(kOwn, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  for (int i = 0; i < 10; ++i) scene.Say(kOwn, 6000).Run(minutes{1});
  REQUIRE(scene.state.Alarms().size() == 1);
  scene.HangChannel(kOwn, 1, ChannelKind::kCarbonDioxide, Scene::kFridge);
  CheckNotJudged(scene, AlarmKind::kCarbonDioxide);
  CHECK_FALSE(AnyStands(scene));
  // Of two that hang there one goes on.
  Scene two;
  two.Give(Scene::kRoom).HangChannel(kOwn, 1, ChannelKind::kCarbonDioxide, Scene::kRoom);
  two.HangChannel(kOwn + 10, 2, ChannelKind::kCarbonDioxide, Scene::kRoom);
  for (int i = 0; i < 10; ++i) two.Say(kOwn, 6000).Say(kOwn + 10, 6000).Run(minutes{1});
  two.HangChannel(kOwn, 1, ChannelKind::kCarbonDioxide, std::nullopt);
  CHECK_FALSE(Ended(two, AlarmKind::kCarbonDioxide));
}

TEST_CASE("a door whose contact was taken down is no longer said to stand open") {
  Scene scene = Fridge();
  scene.HangChannel(kOwn, 1, ChannelKind::kDoor, Scene::kFridge).Run(hours{1});
  scene.Say(kOwn, 1).Run(hours{1});
  REQUIRE(std::ranges::count(scene.state.Alarms(), AlarmKind::kDoorOpen, &Alarm::kind) == 1);
  scene.HangChannel(kOwn, 1, ChannelKind::kDoor, std::nullopt);
  CheckNotJudged(scene, AlarmKind::kDoorOpen);
  scene.decisions.clear();
  scene.HangChannel(kOwn, 1, ChannelKind::kDoor, Scene::kFridge).Run(hours{2});
  CHECK_FALSE(AnyStands(scene));  // it has not spoken since
}

TEST_CASE("a weak battery goes with its probe") {
  Scene scene = Fridge();
  scene.HangChannel(kOwn, Scene::kProbe, ChannelKind::kBattery, Scene::kFridge).Run(hours{1});
  scene.Say(kOwn, 4).Run(minutes{5});
  REQUIRE(std::ranges::count(scene.state.Alarms(), AlarmKind::kBatteryLow, &Alarm::kind) == 1);
  scene.HangChannel(kOwn, Scene::kProbe, ChannelKind::kBattery, std::nullopt);
  CheckNotJudged(scene, AlarmKind::kBatteryLow);
}

TEST_CASE("a stuck probe that was taken down is stuck no more when it hangs again and speaks well") {
  Scene scene = Fridge();
  scene.Run(days{2}).Temperature(12).Run(days{3});
  REQUIRE(std::ranges::count(scene.state.Alarms(), AlarmKind::kProbeStuck, &Alarm::kind) == 1);
  scene.Hang(Scene::kProbe, std::nullopt);
  CheckNotJudged(scene, AlarmKind::kProbeStuck);
  scene.Temperature(Lively(12)).Hang(Scene::kProbe, Scene::kFridge).Run(hours{3});
  CHECK_FALSE(AnyStands(scene));
}

TEST_CASE("air whose probe was taken down was not seen to come back") {
  Scene scene = Fridge();
  scene.Run(days{1}).Temperature(Lively(17)).Run(hours{4});
  REQUIRE(std::ranges::count(scene.state.Alarms(), AlarmKind::kTooWarm, &Alarm::kind) == 1);
  scene.Hang(Scene::kProbe, std::nullopt);
  CheckNotJudged(scene, AlarmKind::kTooWarm);
}

}  // namespace rindwatch::rules
