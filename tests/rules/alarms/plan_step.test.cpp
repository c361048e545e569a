// Where what lies in a cave comes to ask for something else. Invented caves, wheels and plans.
#include <algorithm>
#include <cmath>

#include "rules/alarms/ahead.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/plant.hpp"

namespace rindwatch::rules {
namespace {

// At 11 to 15 degrees until day 16, from then on at what is given: seven days after the scene began, 04:00 of the day.
std::shared_ptr<const Plan> Stepping(Figure then) {
  Plan plan = *PlanOf("stepping", 2, Figure{11, 15, "CP"}, Figure{75, 95, "CP"});
  Stage first = plan.parts[0].stages[0];
  first.last_day = 16;
  Stage later = first;
  later.first_day = 17;
  later.last_day.reset();
  later.temperature_band = then;
  plan.parts[0].stages = {first, later};
  return std::make_shared<const Plan>(std::move(plan));
}

constexpr Millis kStep = days{6} + hours{22};

Scene Stepped(Figure then) {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Stepping(then), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(kStep);
  CHECK(scene.Told() == Lines{});
  return scene;
}

std::optional<Severity> Loudest(const Scene& scene) {
  std::optional<Severity> loudest;
  for (const Decision& decision : scene.decisions) {
    loudest = std::max(loudest.value_or(decision.alarm.severity), decision.alarm.severity);
  }
  return loudest;
}

}  // namespace

TEST_CASE("where a plan's day moved the band and the air is as it was, that is said once, quietly") {
  Scene scene = Stepped(Figure{2, 6, "CP"});
  scene.Run(days{5});
  CHECK(scene.View().state == CaveState::kOutOfBand);
  REQUIRE(scene.decisions.size() == 1);
  CHECK(scene.decisions[0].alarm.severity == Severity::kWatch);
  CHECK(scene.decisions[0].alarm.why == Why::kPlanStep);
  CHECK(scene.decisions[0].alarm.kind == AlarmKind::kTooWarm);
  // What its air is judged by meanwhile is not what the wheels ask for now.
  CHECK(scene.View().temperature.band == Figure{2, 6, "CP"});
  CHECK(WarmthJudgedBy(scene.state, Scene::kFridge) == Figure{11, 15, "CP"});
}

TEST_CASE("what is foreseen while a step is not followed is when wheels leave the limits of before, and not now") {
  Scene scene = Stepped(Figure{2, 6, "CP"});
  scene.Run(hours{5});
  const Millis dead = scene.Since();
  scene.Temperature([dead](Millis since) { return 22 - 9.6 * std::exp(-Minutes(since - dead) / 240); });
  scene.Run(hours{2});
  const auto alarms = scene.state.Alarms();
  const auto failed = std::ranges::find(alarms, Why::kNotTurning, &Alarm::why);
  REQUIRE(failed != alarms.end());
  const Alarm alarm = *failed;
  CHECK(alarm.severity >= Severity::kAct);
  REQUIRE(alarm.matters.size() == 1);
  CHECK(alarm.matters[0].soonest > minutes{0});
}

TEST_CASE("while a step is not followed new warmth rings, and is over where the air was before") {
  Scene scene = Stepped(Figure{2, 6, "CP"});
  scene.Run(hours{5});
  CHECK(Loudest(scene) == Severity::kWatch);
  const Millis hot = scene.Since();
  scene.Temperature([hot](Millis since) { return 20 - 7.6 * std::exp(-Minutes(since - hot) / 120); }).Run(hours{5});
  CHECK(Loudest(scene) >= Severity::kAct);
  // It rang by the limits of before, and so it says: back inside them nobody needs to come.
  CHECK(scene.decisions.back().alarm.band == Figure{11, 15, "CP"});
  CHECK(scene.decisions.back().alarm.why != Why::kPlanStep);
  CHECK(scene.decisions.back().alarm.since >= scene.At(hot));
  CHECK(scene.decisions.back().alarm.dose < 30);
  scene.decisions.clear();
  // Twice a day a defrost, to two degrees over what was asked before.
  scene.Temperature([](Millis since) {
    const double of_half_day = std::fmod(Minutes(since), 720);
    return Saw(since) + 4.5 * std::max(0.0, 1 - std::abs(of_half_day - 300) / 25);
  });
  scene.Run(days{3});
  REQUIRE(!scene.decisions.empty());
  CHECK(scene.decisions.front().change == Decision::Change::kOver);
  CHECK(scene.decisions.front().at - scene.At(hot) < hours{9});
  CHECK(scene.decisions.size() == 1);  // and neither the step nor its defrosts say a word
  // Nobody has followed it yet.
  const auto alarms = scene.state.Alarms();
  const auto step = std::ranges::find(alarms, Why::kPlanStep, &Alarm::why);
  REQUIRE(step != alarms.end());
  CHECK_FALSE(step->over);
  // What failed beside it is none of its own.
  CHECK(step->extreme <= 15);
}

TEST_CASE("who follows the plan is woken by nothing, and from then on the new band counts") {
  Scene scene = Stepped(Figure{9, 12.3, "CP"});
  scene.Run(hours{5});
  scene.Temperature([](Millis since) { return Saw(since) - 2; }).Run(days{3});
  CHECK(Loudest(scene) == Severity::kWatch);
  CHECK(scene.View().state == CaveState::kInBand);
  CHECK(scene.decisions.back().change == Decision::Change::kOver);
  CHECK(scene.decisions.back().alarm.why == Why::kPlanStep);
  // What the band before the step would still have held is out of this one.
  scene.Temperature([](Millis since) { return Saw(since) + 1.6; }).Run(hours{6});
  CHECK(Loudest(scene) >= Severity::kAct);
}

TEST_CASE("a wrap that is signed moves the band as a day does") {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed(), 250).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(days{6});
  // Its next stage belongs into the cold store: nobody carried it there yet.
  scene.Lay(1, Scene::kFridge, PlanOf("wrapped", 2, Figure{0.5, 7.5, "CP"}, std::nullopt), 250).Run(days{3});
  REQUIRE(scene.decisions.size() == 1);
  CHECK(scene.decisions[0].alarm.severity == Severity::kWatch);
  CHECK(scene.decisions[0].alarm.why == Why::kPlanStep);
}

TEST_CASE("a step ends as no longer judged where the band moves away from it and the air is as it was") {
  Scene scene = Stepped(Figure{2, 6, "CP"});
  scene.Run(hours{5}).Told();
  scene.Lay(1, Scene::kFridge, Pressed(), 250).Run(hours{2});
  REQUIRE(!scene.decisions.empty());
  CHECK(scene.decisions.back().change == Decision::Change::kOver);
  CHECK(scene.decisions.back().alarm.why == Why::kPlanStep);
  CHECK(scene.decisions.back().alarm.ending == Ending::kAskedOtherwise);
  CHECK(scene.decisions.back().alarm.band == Figure{2, 6, "CP"});
}

TEST_CASE("a step is the wheel's own: more delicate ones that come and ask otherwise do not end it") {
  Scene scene = Stepped(Figure{2, 6, "CP"});
  scene.Run(hours{5}).Told();
  scene.Humidity(Lively(92)).Lay(2, Scene::kFridge, Bloomy(), 250).Run(days{3});
  CHECK(scene.Told() == Lines{});
  const auto alarms = scene.state.Alarms();
  const auto step = std::ranges::find(alarms, Why::kPlanStep, &Alarm::why);
  REQUIRE(step != alarms.end());
  CHECK_FALSE(step->over);
  CHECK(step->band == Figure{2, 6, "CP"});
  CHECK(step->wheels == std::vector<WheelId>{1});
  SECTION("nor that they come to ask for what it could share") {
    scene.Lay(2, Scene::kFridge, PlanOf("cooler", 0, Figure{5, 13.5, "CP"}, Figure{88, 98, "CP"}), 250);
    scene.Lay(3, Scene::kFridge, Pressed(), 2000).Run(days{1});
    const auto of_step = [](const Decision& decision) { return decision.alarm.kind == AlarmKind::kTooWarm; };
    CHECK(std::ranges::none_of(scene.decisions, of_step));
  }
  SECTION("until it is carried away, however warm the door let it become") {
    scene.Temperature(Lively(13.9)).Run(minutes{40});
    scene.Lay(1, std::nullopt, Stepping(Figure{2, 6, "CP"}), 250).Run(minutes{3});
    const auto over = std::ranges::find(scene.decisions, Decision::Change::kOver, &Decision::change);
    REQUIRE(over != scene.decisions.end());
    CHECK(over->alarm.id == step->id);
    CHECK(over->alarm.ending == Ending::kAskedOtherwise);
  }
  SECTION("until it is carried to where it belongs") {
    scene.Lay(1, std::nullopt, Stepping(Figure{2, 6, "CP"}), 250).Run(hours{2});
    REQUIRE(!scene.decisions.empty());
    CHECK(scene.decisions.back().change == Decision::Change::kOver);
    CHECK(scene.decisions.back().alarm.ending == Ending::kAskedOtherwise);
  }
  SECTION("or the air comes to what it asks for") {
    scene.Temperature([](Millis since) { return Saw(since) - 7.5; }).Run(hours{8});
    const auto of_step = [](const Decision& decision) { return decision.alarm.why == Why::kPlanStep; };
    const auto over = std::ranges::find_if(scene.decisions, of_step);
    REQUIRE(over != scene.decisions.end());
    CHECK(over->change == Decision::Change::kOver);
    CHECK(over->alarm.ending == Ending::kReturned);
  }
  SECTION("or a keeper says by what the fridge is judged") {
    scene.Give(Scene::kFridge, {}, Figure{9.5, 13.5, "typed"}).Run(hours{2});
    REQUIRE(!scene.decisions.empty());
    CHECK(scene.decisions.back().alarm.ending == Ending::kAskedOtherwise);
  }
}

TEST_CASE("the next wheel that comes to such a day has a step of its own, and each names its own wheels") {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  scene.Lay(1, Scene::kFridge, Stepping(Figure{2, 6, "CP"}), 250);
  scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(kStep + hours{5});
  // Softer ones that suit the fridge come, and from their seventeenth day want it cooler, two days from now.
  Plan soft = *Stepping(Figure{8, 11.5, "CP"});
  soft.id = "soft";
  soft.hardiness = 0;
  scene.Lay(2, Scene::kFridge, std::make_shared<const Plan>(soft), 250, 8).Lay(3, Scene::kFridge, Pressed(), 2000);
  scene.Run(days{1});
  scene.decisions.clear();
  scene.Run(days{2});
  REQUIRE(scene.decisions.size() == 1);
  const Decision told = scene.decisions.front();
  CHECK(told.change == Decision::Change::kRaised);
  CHECK(told.alarm.why == Why::kPlanStep);
  CHECK(told.alarm.wheels == std::vector<WheelId>{2});
  CHECK(told.alarm.band == Figure{8, 11.5, "CP"});
  SECTION("the first still stands for its own, with what that one wants") {
    const auto alarms = scene.state.Alarms();
    const auto first = std::ranges::find_if(alarms, [](const Alarm& alarm) {
      return alarm.why == Why::kPlanStep && std::ranges::count(alarm.wheels, 1) > 0;
    });
    REQUIRE(first != alarms.end());
    CHECK_FALSE(first->over);
    CHECK(first->wheels == std::vector<WheelId>{1});
    CHECK(first->band == Figure{2, 6, "CP"});
  }
  SECTION("air that comes to what one asks for ends that one alone") {
    scene.decisions.clear();
    scene.Temperature([](Millis since) { return Saw(since) - 3; }).Run(hours{8});
    std::vector<std::vector<WheelId>> ended;
    for (const Decision& decision : scene.decisions) {
      if (decision.change == Decision::Change::kOver) ended.push_back(decision.alarm.wheels);
    }
    CHECK(ended == std::vector<std::vector<WheelId>>{{2}});
  }
  SECTION("and both end where nothing is judged any more") {
    scene.decisions.clear();
    scene.Hang(Scene::kProbe, std::nullopt).Run(minutes{5});
    CHECK(std::ranges::count(scene.decisions, Ending::kTakenDown,
                             [](const Decision& decision) { return decision.alarm.ending; }) == 2);
  }
}

TEST_CASE(
    "a wheel that comes to its day while the band of its cave stays as it is has a step too, and is known by it") {
  Scene scene;
  scene.own.clear();
  scene.Give(Scene::kFridge).Hang(Scene::kProbe, Scene::kFridge);
  const auto plan = Stepping(Figure{8, 12.1, "CP"});
  // Three lots of one plan, a day apart: the part that they have in common moves with the first and with the last.
  scene.Lay(1, Scene::kFridge, plan, 250, 12).Lay(2, Scene::kFridge, plan, 250, 11).Lay(3, Scene::kFridge, plan, 250);
  scene.Temperature(UsualSaw).Humidity(Lively(85)).Run(days{8});
  std::vector<std::vector<WheelId>> told;
  for (const Decision& decision : scene.decisions) {
    CHECK(decision.alarm.why == Why::kPlanStep);
    told.push_back(decision.alarm.wheels);
  }
  CHECK(told == std::vector<std::vector<WheelId>>{{1}, {2}, {3}});
  // Its air was known all the while.
  scene.decisions.clear();
  scene.Temperature([](Millis since) { return Saw(since) - 1.5; }).Run(hours{8});
  REQUIRE(!scene.decisions.empty());
  for (const Decision& decision : scene.decisions) CHECK(decision.alarm.Unknown() <= minutes{1});
}

TEST_CASE("a plant that dies on the day of a plan's step rings as ever, past the limits of before") {
  Scene scene = Stepped(Figure{9, 12.3, "CP"});
  const Millis dead = scene.Since() + hours{2};
  scene.Run(hours{2});
  scene.Temperature([dead](Millis since) { return 22 - 9.6 * std::exp(-Minutes(since - dead) / 240); }).Run(hours{4});
  CHECK(Loudest(scene) >= Severity::kAct);
}

TEST_CASE("a band that a keeper typed counts at once") {
  Scene scene = Stepped(Figure{11, 15, "CP"});
  scene.Give(Scene::kFridge, {}, Figure{2, 6, "typed"}).Run(hours{6});
  CHECK(Loudest(scene) >= Severity::kAct);
}

TEST_CASE("a wheel that comes to want it cooler than its neighbour's limit proves no event") {
  Scene scene;
  scene.own.clear();
  // No band suits both: the cave keeps that of the softer one, and the other is told beside it.
  Plan warm = *PlanOf("soft", 0, Figure{12, 16, "CP"}, Figure{75, 95, "CP"});
  scene.Give(Scene::kFridge)
      .Lay(1, Scene::kFridge, std::make_shared<const Plan>(warm), 250)
      .Lay(2, Scene::kFridge, Stepping(Figure{11, 12.4, "CP"}), 2000)
      .Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature([](Millis since) { return Saw(since) + 0.7; }).Humidity(Lively(85)).Run(kStep);
  CHECK(scene.Told() == Lines{});
  // The common band ends at 12.4 now; the air was at 13.2 all the while, and so is the wheel.
  scene.Run(hours{23});
  CHECK(Loudest(scene) == Severity::kWatch);
}

}  // namespace rindwatch::rules
