// One event is one alarm: a box in a fridge follows the fridge's air, late. Both have probes. Invented.
#include <algorithm>
#include <cmath>

#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

using Wheels = std::vector<WheelId>;

constexpr ProbeId kBoxProbe = 2;

// A fridge with a pressed wheel, and a box in it with another one; both at rest until 3:00.
Scene BoxInFridge(CaveId fridge = Scene::kFridge, CaveId box = Scene::kBox) {
  Scene scene;
  scene.Give(fridge).Give(box, fridge).Hang(Scene::kProbe, fridge).Hang(kBoxProbe, box);
  scene.Lay(1, fridge, Pressed(), 2000).Lay(2, box, Pressed(), 2000);
  scene.Temperature(12.5).Humidity(85).Temperature(12.5, kBoxProbe).Humidity(85, kBoxProbe).Run(hours{3});
  CHECK(scene.Told() == Lines{});
  return scene;
}

// The plant is dead from 3:00 until `mended`: the air goes towards a room of 24 degrees with a time constant of 4 h,
// and back towards 12.5 with one of 20 min.
double DeadPlant(Millis t, Millis mended) {
  const auto hours_since = [](Millis span) { return std::max(0.0, static_cast<double>(span.count()) / 3600e3); };
  const double risen = 11.5 * (1 - std::exp(-hours_since(std::min(t, mended) - hours{3}) / 4));
  return 12.5 + risen * std::exp(-hours_since(t - mended) * 3);
}

// What a first-order lag makes of another course.
Scene::Course Lagging(Scene::Course of, Millis constant) {
  std::vector<double> by_minute{of(Millis{0})};
  const double share = 1 - std::exp(-60e3 / static_cast<double>(constant.count()));
  for (Millis t{0}; t < hours{60}; t += minutes{1}) {
    by_minute.push_back(by_minute.back() + share * (of(t) - by_minute.back()));
  }
  return [by_minute](Millis t) { return by_minute.at(static_cast<std::size_t>(t / minutes{1})); };
}

void PlantDies(Scene& scene, Millis mended, Millis lag) {
  const auto course = [mended](Millis t) { return DeadPlant(t, mended); };
  scene.Temperature(course).Temperature(Lagging(course, lag), kBoxProbe);
}

}  // namespace

TEST_CASE("a fridge and the box in it get warm together and cool together: one alarm, with the wheels of both") {
  for (const Millis lag : {minutes{1}, minutes{45}, minutes{120}}) {
    Scene scene = BoxInFridge();
    PlantDies(scene, hours{9}, lag);
    scene.Run(hours{24});
    CAPTURE(lag.count());
    const std::vector<Decision> told = scene.decisions;
    const Lines lines = scene.Told();
    for (const std::string& line : lines) UNSCOPED_INFO(line);
    CHECK(lines.size() == 3);  // watch, act, over
    for (const Decision& decision : told) CHECK(decision.alarm.cave == Scene::kFridge);
    CHECK(told.back().change == Decision::Change::kOver);
    CHECK(told.back().alarm.severity == Severity::kAct);
    CHECK(told.back().alarm.wheels == Wheels{1, 2});
    CHECK(scene.View(Scene::kBox).state == CaveState::kInBand);
  }
}

TEST_CASE("a box is still out when its fridge is back: what it comes to on its way is no news") {
  // Mended before the fridge comes to an act; the box lags and is beyond the act limit for longer than that takes.
  Scene scene = BoxInFridge();
  PlantDies(scene, hours{7}, hours{4});
  scene.Run(hours{30});
  for (const Decision& decision : scene.decisions) CHECK(decision.alarm.cave == Scene::kFridge);
  REQUIRE(scene.decisions.size() == 2);
  // Over once the box is back too, and dated to the fridge's own return.
  const Alarm& over = scene.decisions.back().alarm;
  CHECK(*over.over - *over.back_since > hours{3});
  CHECK(scene.View(Scene::kBox).temperature.state != CaveState::kOutOfBand);
}

TEST_CASE("what belongs to the alarm around a box is remembered when it is written down") {
  const auto play = [](int every) {
    Scene scene = BoxInFridge();
    PlantDies(scene, hours{9}, minutes{120});
    int inputs = 0;
    scene.after_input = [every, inputs](Scene& now) mutable {
      if (every == 0 || ++inputs % every) return;
      auto read = EngineState::FromText(now.state.ToText());
      REQUIRE(read);
      now.state = std::move(*read);
    };
    scene.Run(hours{12}).Temperature(15.2, kBoxProbe).Run(hours{6});
    return std::pair{scene.decisions, scene.state.ToText()};
  };
  const auto whole = play(0);
  CHECK(whole.first.size() == 4);
  CHECK(play(7) == whole);
  CHECK(play(101) == whole);
}

TEST_CASE("what happens to a fridge while the box in it still comes back is another event, and a defrost is none") {
  Scene scene = BoxInFridge();
  PlantDies(scene, hours{7}, hours{4});
  scene.Run(hours{7});
  REQUIRE(scene.state.Alarms().size() == 1);
  const Alarm first = scene.state.Alarms().front();
  CHECK_FALSE(first.over);  // it waits for the box
  REQUIRE(first.inside_since);
  const Millis now = scene.Since();
  scene.Told();

  SECTION("a defrost") {
    scene.Temperature([now](Millis t) { return 12.5 + 3 * std::max(0.0, 1 - std::abs(Minutes(t - now) - 20) / 20); });
    scene.Run(minutes{30});
    CHECK(scene.Told() == Lines{});
    CHECK(scene.state.Alarms().front().inside_since == first.inside_since);
    CHECK(scene.state.Alarms().front().extreme == first.extreme);
    scene.Run(hours{12});
    const Lines told = scene.Told();
    REQUIRE(told.size() == 1);
    CHECK(told[0].find("too warm over") != std::string::npos);
  }
  SECTION("nobody hears it for hours, and it is warm then: it was not seen to be back") {
    scene.Silent().Run(hours{4}).Temperature(18).Run(minutes{40});
    const auto of_fridge = [](const Decision& d) { return d.alarm.kind == AlarmKind::kTooWarm && d.alarm.over; };
    CHECK(std::ranges::none_of(scene.decisions, of_fridge));
  }
  SECTION("its kind is struck, and judged again") {
    const auto fridge = [](std::vector<AlarmKind> off) {
      return CaveGiven{Scene::kFridge,
                       {},
                       DayTurn{},
                       {},
                       {},
                       OwnSettings{{"excursion: turns within, first days", 480}, {"excursion: lasts, first days", 720}},
                       std::move(off)};
    };
    scene.Take(fridge({AlarmKind::kTooWarm})).Run(hours{2}).Take(fridge({})).Run(hours{2});
    scene.decisions.clear();
    scene.Temperature(17).Run(hours{3});
    CHECK(std::ranges::count(scene.decisions, Decision::Change::kRaised, &Decision::change) == 1);
    CHECK(std::ranges::count(scene.decisions, Decision::Change::kOver, &Decision::change) == 0);
  }
  SECTION("a plant that dies again") {
    scene.Temperature([now](Millis t) { return 24 - 11.5 * std::exp(-Minutes(t - now) / 240); }).Run(hours{5});
    const auto over = std::ranges::find(scene.decisions, Decision::Change::kOver, &Decision::change);
    const auto again = std::ranges::find(scene.decisions, Decision::Change::kRaised, &Decision::change);
    REQUIRE(over != scene.decisions.end());
    REQUIRE(again != scene.decisions.end());
    CHECK(over->alarm.id == first.id);
    CHECK(over->alarm.back_since == first.inside_since);
    CHECK(again->alarm.cave == Scene::kFridge);
    CHECK(again->alarm.since >= scene.At(now));
    CHECK(again->alarm.dose < 5);
  }
}

TEST_CASE("which of the two was entered first does not matter") {
  Scene scene = BoxInFridge(Scene::kRoom, Scene::kBox);
  const auto course = [](Millis t) { return DeadPlant(t, hours{9}); };
  scene.Temperature(course).Temperature(course, kBoxProbe).Run(hours{24});
  for (const Decision& decision : scene.decisions) CHECK(decision.alarm.cave == Scene::kRoom);
  CHECK(scene.Told().size() == 3);
}

TEST_CASE("a box that is warm by itself rings by itself") {
  Scene scene = BoxInFridge();
  scene.Temperature(15.5, kBoxProbe).Run(hours{3});
  CHECK(scene.Told() == Lines{"4:21 too warm raised watch"});
  const Alarm alarm = scene.state.Alarms().front();
  CHECK(alarm.cave == Scene::kBox);
  CHECK(alarm.wheels == Wheels{2});
  SECTION("and goes on ringing when its fridge was warm meanwhile and is back") {
    scene.Temperature(15.5).Run(hours{2}).Temperature(12.5).Run(hours{4});
    // The fridge's own two.
    const auto of_fridge = [](const Decision& decision) { return decision.alarm.cave == Scene::kFridge; };
    CHECK(std::ranges::count_if(scene.decisions, of_fridge) == 2);
    CHECK(scene.Told().size() == 2);
    REQUIRE(scene.state.Alarms().size() == 2);
    CHECK(scene.state.Alarms().front().id == alarm.id);
    CHECK_FALSE(scene.state.Alarms().front().over);
    scene.Temperature(12.5, kBoxProbe).Run(hours{2});
    CHECK(scene.Told().back().find("too warm over") != std::string::npos);
  }
}

TEST_CASE(
    "the fridge heals and its box stays warm: the box rings as the fridge's alarm ends, counted from when it was "
    "back") {
  Scene scene = BoxInFridge();
  scene.Temperature(15.7).Temperature(15.7, kBoxProbe).Run(hours{5}).Temperature(12.5).Run(hours{1});
  CHECK(scene.Told() == Lines{"4:19 too warm raised watch"});
  scene.Run(hours{8});
  REQUIRE(scene.decisions.size() == 3);
  const Decision over = scene.decisions[0], own = scene.decisions[1];
  CHECK(over.change == Decision::Change::kOver);
  CHECK(over.alarm.cave == Scene::kFridge);
  CHECK(own.alarm.cave == Scene::kBox);
  CHECK(own.alarm.severity == Severity::kWatch);
  CHECK(own.alarm.wheels == Wheels{2});
  // It waits for the box for an hour, and no longer: one that follows would have come nearer by then.
  CHECK(own.at == over.at);
  CHECK(own.at == *over.alarm.back_since + hours{2});
  CHECK(own.alarm.since >= over.at - hours{1} - minutes{2});
  CHECK(own.alarm.dose < 1.3);
  // Its wheel has followed: the same alarm, graver.
  CHECK(scene.decisions[2].alarm.id == own.alarm.id);
  CHECK(scene.decisions[2].alarm.why == Why::kWheel);
}

TEST_CASE("a box that comes back more and more slowly rings when it stops short of its band") {
  Scene scene = BoxInFridge();
  scene.Temperature(18.0).Temperature(18.0, kBoxProbe).Run(hours{5}).Temperature(12.5);
  const auto fridge_over = [](const Decision& decision) { return decision.change == Decision::Change::kOver; };
  // Two hours for two thirds of the way to 15.0, half a degree outside.
  scene.Temperature([](Millis t) { return 15 + 3 * std::exp(-static_cast<double>((t - hours{8}).count()) / 7200e3); },
                    kBoxProbe);
  scene.Run(hours{20});
  const auto over = std::ranges::find_if(scene.decisions, fridge_over);
  REQUIRE(scene.decisions.end() - over == 2);
  const Decision own = over[1];
  CHECK(own.alarm.cave == Scene::kBox);
  CHECK(own.alarm.severity == Severity::kWatch);
  CHECK(own.at <= over->at + minutes{1});
  CHECK(own.at >= *over->alarm.back_since + hours{2});
  CHECK(own.at < *over->alarm.back_since + hours{6});
}

TEST_CASE("a box that leaves its band a little before its fridge does leaves it in the same event") {
  Scene scene = BoxInFridge();
  const auto climb = [](double ahead) {
    return [ahead](Millis t) {
      return 12.5 + ahead + 0.02 * std::max(0.0, static_cast<double>((t - hours{3}) / minutes{1}));
    };
  };
  SECTION("by ten minutes: one alarm, the fridge's") {
    scene.Temperature(climb(0)).Temperature(climb(0.2), kBoxProbe).Run(hours{3} + minutes{30});
    REQUIRE(scene.decisions.size() == 1);
    CHECK(scene.decisions[0].alarm.cave == Scene::kFridge);
    CHECK(scene.state.Alarms().front().wheels == Wheels{1, 2});
  }
  SECTION("the fridge turns back just then: the box rings") {
    scene.Temperature([&](Millis t) { return t < hours{5} + minutes{50} ? climb(0)(t) : 11.0; });
    scene.Temperature(climb(0.2), kBoxProbe).Run(hours{3} + minutes{30});
    REQUIRE(scene.decisions.size() == 1);
    CHECK(scene.decisions[0].alarm.cave == Scene::kBox);
  }
  SECTION("by an hour: two") {
    scene.Temperature(climb(0)).Temperature(climb(1.2), kBoxProbe).Run(hours{3} + minutes{30});
    REQUIRE(scene.decisions.size() == 2);
    CHECK(scene.decisions[0].alarm.cave == Scene::kBox);
  }
}

TEST_CASE("what is worse in the box, or urgent, rings there") {
  Scene scene = BoxInFridge();
  SECTION("warmer than around it, and staying so") {
    scene.Temperature(15.0).Temperature(14.9, kBoxProbe).Run(hours{2});
    CHECK(scene.Told() == Lines{"4:25 too warm raised watch"});
    scene.Temperature(17.0, kBoxProbe).Run(hours{4});
    CHECK(scene.Told() == Lines{"8:16 too warm raised act"});
    CHECK(scene.state.Alarms().front().cave == Scene::kBox);
  }
  SECTION("freezing, though on its way back") {
    scene.Temperature(8.0).Temperature(8.0, kBoxProbe).Run(hours{5});
    CHECK(scene.Told() == Lines{"6:14 too cold raised watch"});
    scene.Temperature(-8.0, kBoxProbe).Run(hours{1});
    scene.Temperature([](Millis t) { return -8 + 0.1 * static_cast<double>((t - hours{9}) / minutes{1}); }, kBoxProbe);
    scene.Run(hours{1});
    const Alarm alarm = scene.state.Alarms().front();
    CHECK(alarm.severity == Severity::kUrgent);
    CHECK(alarm.cave == Scene::kBox);
  }
}

TEST_CASE("wheels that only the box's air touches are listed by the alarm of its fridge") {
  Scene scene;
  scene.Give(Scene::kFridge).Give(Scene::kBox, Scene::kFridge);
  scene.Hang(Scene::kProbe, Scene::kFridge).Hang(kBoxProbe, Scene::kBox);
  scene.Lay(1, Scene::kFridge, Bloomy()).Lay(2, Scene::kBox, Pressed(), 2000);
  scene.Temperature(14).Humidity(93).Temperature(15, kBoxProbe).Humidity(85, kBoxProbe);
  scene.Run(minutes{89});
  CHECK(scene.Told() == Lines{});
  // The soft wheel's band ends at 13.5, the pressed one's at 14.5.
  scene.Run(hours{2});
  CHECK(scene.Told() == Lines{"1:30 too warm raised watch"});
  CHECK(scene.state.Alarms().front().cave == Scene::kFridge);
  CHECK(scene.state.Alarms().front().wheels == Wheels{1, 2});
}

TEST_CASE("a box whose fridge is judged no more tells its own excursion at once") {
  Scene scene = BoxInFridge();
  scene.Temperature(15.7).Temperature(15.7, kBoxProbe).Run(hours{3});
  CHECK(scene.Told() == Lines{"4:19 too warm raised watch"});
  scene.Silent().Hang(Scene::kProbe, std::nullopt).Run(minutes{1});
  CHECK(scene.Told() == Lines{"6:00 too warm over", "6:01 too warm raised watch"});
}

TEST_CASE("the humidity of a box is its own, whatever rings around it") {
  Scene scene = BoxInFridge();
  scene.Humidity(70).Humidity(70, kBoxProbe).Run(hours{3});
  int raised = 0;
  for (const Decision& decision : scene.decisions) raised += decision.change == Decision::Change::kRaised;
  CHECK(raised == 2);
}

TEST_CASE("dry air in a box belongs to the warmth of its fridge, and is told when that is over") {
  for (const bool before : {false, true}) {
    CAPTURE(before);
    Scene scene = BoxInFridge();
    const auto dry = [](const Decision& decision) {
      return decision.alarm.kind == AlarmKind::kTooDry && decision.alarm.cave == Scene::kBox;
    };
    // Warm at once and loudly; the box follows an hour later.
    PlantDies(scene, hours{13}, minutes{60});
    if (!before) scene.Run(hours{4});
    scene.Humidity(68, kBoxProbe).Run(hours{13} - scene.Since());
    REQUIRE(scene.state.Alarms().front().kind == AlarmKind::kTooWarm);
    REQUIRE(scene.state.Alarms().front().severity >= Severity::kAct);
    int bells = 0;
    for (const Alarm& alarm : scene.state.Alarms()) bells += alarm.Rings();
    CHECK(bells == 1);
    // What had rung before the fridge did is quiet from then on; what had not never rings.
    std::vector<Decision::Change> told;
    for (const Decision& decision : scene.decisions) {
      if (dry(decision)) told.push_back(decision.change);
    }
    REQUIRE(told.empty() != before);
    if (before) CHECK(told.back() == Decision::Change::kQuieted);
    scene.Run(hours{12});
    REQUIRE(scene.state.Alarms().size() == 2);  // the fridge's, over and not yet seen
    CHECK(std::ranges::count_if(scene.state.Alarms(), [](const Alarm& alarm) { return alarm.Rings(); }) == 1);
    CHECK(dry(scene.decisions.back()));
  }
}

TEST_CASE("dry air in the fridge is not quieted by a box that is warm by itself") {
  Scene scene = BoxInFridge();
  scene.Temperature(20, kBoxProbe).Humidity(68).Run(hours{6});
  int bells = 0;
  for (const Alarm& alarm : scene.state.Alarms()) bells += alarm.Rings();
  CHECK(bells == 2);
}

TEST_CASE("probes that fall silent together in a box and around it are one event: the power") {
  Scene scene = BoxInFridge();
  scene.Silent().Silent(kBoxProbe).Wait(hours{1});
  CHECK(scene.Told() == Lines{"3:03 power gone raised act"});
}

}  // namespace rindwatch::rules
