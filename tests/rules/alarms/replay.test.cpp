// The watch as a value: the same inputs give the same decisions, whoever asks in between and however often it is
// written down and read back.
#include <random>

#include "rules/alarms/archive.hpp"
#include "rules/alarms/version.hpp"
#include "tests/catch.hpp"
#include "tests/rules/alarms/scene.hpp"

namespace rindwatch::rules {
namespace {

struct Dated {
  Instant at;
  Input input;
};

std::shared_ptr<const Plan> Staged() {
  Plan plan = *PlanOf("staged", 1, Figure{9, 13, "CP"}, Figure{85, 95, "CP"});
  Stage& first = plan.parts[0].stages[0];
  first.last_day = 11;
  first.cares.push_back({{CareKind::kTurn}, {}, EveryDays{1}, {}, "with both hands", "CP"});
  Stage later = first;
  later.first_day = 12;
  later.last_day = 13;
  later.temperature_band = Figure{11, 16, "CP, 100 % sure"};
  plan.parts[0].stages.push_back(later);
  Stage kept = later;
  kept.first_day = 14;
  kept.last_day.reset();
  kept.humidity_band.reset();
  plan.parts[0].branch = Branch{"Keep on?", 13, {{"eat", {}}, {"keep on", {kept}}}, "keep on"};
  return std::make_shared<const Plan>(std::move(plan));
}

// A week of a keeper's life with three caves and four probes, as a stream of inputs. Invented.
class Life {
 public:
  explicit Life(unsigned seed) : random_(seed), at_(FromMillis(1'772'431'200'000)) {
    const Zone zone{"Invented/Place", hours{1}, {{at_ + days{2}, hours{2}}}};
    for (const CaveId cave : {1, 2, 3}) Put(CaveGiven{cave, Inside(cave), DayTurn{zone, 4}, {}, {}});
    for (WheelId wheel = 1; wheel <= 5; ++wheel) Put(WheelAnew(wheel));
    for (ProbeId probe = 1; probe <= 4; ++probe) Hang(probe);
    const Instant end = at_ + days{4};
    while (at_ < end) Next();
  }
  std::vector<Dated> inputs;

 private:
  std::mt19937 random_;
  Instant at_;
  double warmth_ = 12, damp_ = 88;
  std::optional<Instant> down_;
  std::vector<std::string> rung_;  // what the keeper may take
  EngineState mirror_;             // only to know what rings

  unsigned Roll(unsigned sides) { return static_cast<unsigned>(random_() % sides); }
  std::optional<CaveId> Inside(CaveId cave) const { return cave == 2 ? std::optional<CaveId>{1} : std::nullopt; }

  void Put(Input input) {
    for (const Decision& decision : Step(mirror_, input, at_)) rung_.push_back(decision.alarm.id);
    inputs.push_back({at_, std::move(input)});
  }
  WheelGiven WheelAnew(WheelId wheel) {
    WheelHistory history;
    const std::shared_ptr<const Plan> plans[] = {Pressed(), Bloomy(), Staged()};
    history.plans.push_back({plans[Roll(3)], at_ - days{20}, "a plan, given"});
    StartEvent made{};
    made.id = "made";
    made.day = DayTurn{}.DayOf(at_) - days{static_cast<int>(Roll(20))};
    made.known_from = at_ - days{1};
    history.starts.push_back(made);
    history.entered = at_ - days{1};
    if (Roll(3) == 0) history.branches.push_back({"b", "keep on", at_});
    if (Roll(8) == 0) history.undos.push_back({"u", "made", at_});
    if (Roll(8) == 0) history.gone = at_;
    const std::optional<CaveId> cave = Roll(6) ? std::optional<CaveId>{1 + Roll(3)} : std::nullopt;
    return {wheel, cave, std::move(history), Grams{Roll(2) ? 250.0 : 1999.5}};
  }
  void Hang(ProbeId probe) {
    const std::optional<CaveId> cave = Roll(8) ? std::optional<CaveId>{1 + Roll(3)} : std::nullopt;
    Put(ChannelHung{probe * 10 + 1, probe, ChannelKind::kTemperature, cave});
    Put(ChannelHung{probe * 10 + 2, probe, ChannelKind::kHumidity, cave});
    Put(ChannelHung{probe * 10 + 3, probe, ChannelKind::kBattery, cave});
    Put(ChannelHung{probe * 10 + 4, probe, ChannelKind::kDoor, cave});
    Put(ChannelHung{probe * 10 + 5, probe, ChannelKind::kPlantPower, cave});
    Put(ChannelHung{probe * 10 + 6, probe, ChannelKind::kCarbonDioxide, cave});
    Put(ChannelHung{probe * 10 + 7, probe, ChannelKind::kHumidifierWater, cave});
    Put(ChannelHung{probe * 10 + 8, probe, ChannelKind::kDrainWater, cave});
  }
  void Say() {
    warmth_ += (static_cast<double>(Roll(100)) - 49.5) / 120 + (12.5 - warmth_) / 400;
    damp_ += (static_cast<double>(Roll(100)) - 49.5) / 30 + (88 - damp_) / 400;
    for (ProbeId probe = 1; probe <= 4; ++probe) {
      if (probe == 3 && (at_.time_since_epoch() / hours{5}) % 2) continue;  // silent for five hours of ten
      if (Roll(20) == 0) continue;
      Reading reading;
      reading.measured_at = reading.received_at = at_;
      reading.marks = Roll(30) ? With(0, Mark::kLive) : Marks{0};
      reading.channel = probe * 10 + 1;
      reading.milli = std::llround((warmth_ + static_cast<double>(probe) / 3) * 1000);
      Put(reading);
      reading.channel = probe * 10 + 2;
      reading.milli = std::llround(damp_ * 1000);
      Put(reading);
      const std::int64_t others[] = {3'000 * Roll(40),    Roll(2) * 1000, Roll(80) * 1000,
                                     Roll(3) * 2'500'000, Roll(2) * 1000, Roll(2) * 1000};
      const unsigned other = Roll(40);
      if (other >= 6) continue;
      reading.channel = probe * 10 + 3 + other;
      reading.milli = others[other];
      Put(reading);
    }
  }
  void Next() {
    at_ += Roll(12) ? Millis{60'000 + Roll(900)} : Millis{Roll(600'000)};
    if (down_) {
      if (Roll(10)) {
        at_ += Millis{Roll(4'000'000)};
        if (Roll(3) == 0) Put(WheelAnew(1 + Roll(5)));
        return;
      }
      Put(Started{Roll(2) ? down_ : std::nullopt});
      down_.reset();
    }
    Say();
    switch (Roll(400)) {
      case 0:
        return Hang(1 + Roll(4));
      case 1:
      case 2:
        return Put(WheelAnew(1 + Roll(5)));
      case 3: {
        const CaveId cave = 1 + Roll(3);
        const auto limit = Roll(2) ? std::optional{Figure{11, 15.25, "typed by the keeper"}} : std::nullopt;
        CaveGiven given{cave, Inside(cave), DayTurn{Zone{}, static_cast<int>(Roll(6))}, limit, {}};
        if (Roll(2)) given.own = {{"too warm: watch after", 20 + static_cast<double>(Roll(60))}};
        if (Roll(4) == 0) given.out_of_service = {AlarmKind::kTooDry, AlarmKind::kDoorOpen};
        given.ready_cheese = Roll(6) == 0;
        return Put(given);
      }
      case 4:
        down_ = at_;
        if (Roll(2)) Put(Stopped{});
        return;
      case 5:
        return Put(Started{at_ - minutes{3}});
      case 6:
        return Put(KeeperHere{1 + Roll(3), Roll(2) ? "IH" : ""});
      case 7:
        return Put(KeeperOut{1 + Roll(3), Roll(2) ? "IH" : ""});
      case 8:
      case 9:
        return Put(KeeperTended{1 + Roll(3)});
      default:
        break;
    }
    if (rung_.empty() || Roll(60)) return;
    const std::string& id = rung_[Roll(static_cast<unsigned>(rung_.size()))];
    if (Roll(3)) return Put(AlarmTaken{id});
    Put(AlarmSetAside{id, at_ + Millis{Roll(20'000'000)}});
  }
};

std::vector<Decision> Replay(EngineState& state, const std::vector<Dated>& inputs, std::size_t from, std::size_t to) {
  std::vector<Decision> all;
  for (std::size_t i = from; i < to; ++i) {
    for (Decision& decision : Step(state, inputs[i].input, inputs[i].at)) all.push_back(std::move(decision));
  }
  return all;
}

EngineState Reread(const EngineState& state) {
  const std::string text = state.ToText();
  auto read = EngineState::FromText(text);
  REQUIRE(read);
  REQUIRE(read->ToText() == text);
  return std::move(*read);
}

}  // namespace

TEST_CASE("the same inputs give the same decisions and the same memory") {
  for (const unsigned seed : {1U, 2U, 3U}) {
    const Life life(seed), again(seed);
    EngineState a, b;
    const auto told = Replay(a, life.inputs, 0, life.inputs.size());
    CHECK(told.size() > 20);
    CHECK(told == Replay(b, again.inputs, 0, again.inputs.size()));
    CHECK(a.ToText() == b.ToText());
    for (std::size_t i = 1; i < told.size(); ++i) CHECK(told[i - 1].at <= told[i].at);
  }
}

TEST_CASE("written down and read back between any two inputs, it decides as if it had never been away") {
  for (const unsigned seed : {11U, 12U, 13U, 14U}) {
    const Life life(seed);
    EngineState whole;
    const auto told = Replay(whole, life.inputs, 0, life.inputs.size());
    std::mt19937 random(seed);
    EngineState state;
    std::vector<Decision> pieces;
    std::size_t done = 0;
    while (done < life.inputs.size()) {
      const std::size_t next = std::min(life.inputs.size(), done + 1 + random() % 150);
      for (Decision& decision : Replay(state, life.inputs, done, next)) pieces.push_back(std::move(decision));
      done = next;
      state = Reread(state);
    }
    CHECK(pieces == told);
    CHECK(state.ToText() == whole.ToText());
    CHECK(state.Alarms() == whole.Alarms());
  }
}

TEST_CASE("who looks and wakes it in between changes nothing, and every decision lies at a deadline or an input") {
  std::size_t decided = 0;
  for (const unsigned seed : {21U, 22U, 23U, 24U}) {
    const Life life(seed);
    EngineState whole, watched;
    const auto told = Replay(whole, life.inputs, 0, life.inputs.size());
    std::vector<Decision> woken;
    for (const Dated& dated : life.inputs) {
      // An absence that was not written down at its begin is known to nobody before the start.
      if (std::holds_alternative<Started>(dated.input)) break;
      while (const auto next = NextDeadline(watched)) {
        if (*next > dated.at) break;
        // Nothing is decided a moment before the deadline that was named.
        REQUIRE(Advance(watched, *next - Millis{1}).empty());
        for (Decision& decision : Advance(watched, *next)) {
          CHECK(decision.at == *next);
          woken.push_back(std::move(decision));
        }
        for (const CaveId cave : {1, 2, 3}) watched.View(cave, *next);
      }
      for (Decision& decision : Step(watched, dated.input, dated.at)) woken.push_back(std::move(decision));
    }
    const std::vector<Decision> until(told.begin(), told.begin() + static_cast<std::ptrdiff_t>(woken.size()));
    decided += woken.size();
    for (std::size_t i = 0; i < woken.size(); ++i) {
      INFO(i << ": " << until[i].alarm.id << " " << ToText(until[i].change) << ", woken " << woken[i].alarm.id << " "
             << ToText(woken[i].change));
      REQUIRE(woken[i] == until[i]);
    }
  }
  CHECK(decided > 3);
}

TEST_CASE("an instant that goes back counts as the last") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed()).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85).Run(hours{2});
  const std::string before = scene.state.ToText();
  CHECK(Advance(scene.state, scene.At(hours{1})).empty());
  CHECK(scene.state.ToText() == before);
  CHECK(Step(scene.state, CaveGiven{Scene::kRoom, {}, {}, {}, {}}, scene.At(hours{1})).empty());
  CHECK(NextDeadline(scene.state) == scene.At(hours{2} + minutes{1}));
}

TEST_CASE("a copy goes its own way") {
  Scene scene;
  scene.Give(Scene::kFridge).Lay(1, Scene::kFridge, Pressed()).Hang(Scene::kProbe, Scene::kFridge);
  scene.Temperature(12.5).Humidity(85).Run(hours{2});
  Scene other = scene;
  other.Temperature(18).Run(hours{4});
  CHECK(other.state.Alarms().size() == 1);
  CHECK(scene.state.Alarms().empty());
  scene.state = other.state;
  CHECK(scene.state.Alarms() == other.state.Alarms());
}

TEST_CASE("an empty memory and a strange name are written down and read back") {
  CHECK(Reread(EngineState{}).Alarms().empty());
  Scene scene;
  scene.Take(CaveGiven{
      1, {}, DayTurn{Zone{"ein Ort\n%, 'überall' \x01", seconds{-3600}, {}}, 5}, Figure{0.1, 1e300, " "}, {}});
  scene.Lay(1, 1, PlanOf("", 0, Figure{-0.0, 5e-324, ""}, {}));
  CHECK(Reread(scene.state).View(1, scene.Now()).temperature.band == Figure{0.1, 1e300, " "});
}

TEST_CASE("text of another version, or damaged, is refused") {
  const Life life(31);
  EngineState state;
  Replay(state, life.inputs, 0, 4000);
  const std::string text = state.ToText();
  REQUIRE(EngineState::FromText(text));
  CHECK_FALSE(EngineState::FromText(""));
  const std::string version = std::to_string(kRulesVersion);
  CHECK_FALSE(EngineState::FromText("rindwatch watch " + version + "\n"));
  CHECK_FALSE(EngineState::FromText(text + "\n"));
  CHECK_FALSE(EngineState::FromText(text.substr(1)));
  std::string other = text;
  other.replace(other.find(" " + version + "\n"), version.size() + 1, " " + std::to_string(kRulesVersion + 1));
  CHECK_FALSE(EngineState::FromText(other));
  for (std::size_t length = 0; length < text.size(); length += 97) {
    REQUIRE_FALSE(EngineState::FromText(text.substr(0, length)));
  }
  std::mt19937 random(5);
  for (int i = 0; i < 2000; ++i) {
    std::string damaged = text;
    char& letter = damaged[random() % damaged.size()];
    letter = static_cast<char>(letter ^ (1 << random() % 8));
    REQUIRE_FALSE(EngineState::FromText(damaged));
  }
}

TEST_CASE("text whose sum is right and whose content is not is refused, or read as something that lives on") {
  const Life life(32);
  EngineState state;
  Replay(state, life.inputs, 0, 3000);
  const std::string whole = state.ToText();
  const std::string body = whole.substr(0, whole.rfind("sum "));
  const std::string pieces[] = {"0",
                                "-1",
                                "9223372036854775807",
                                "-9223372036854775808",
                                "1e308",
                                "nan",
                                "'",
                                "'%zz",
                                "",
                                "\n",
                                " ",
                                "99999999",
                                "4294967296",
                                "'x",
                                "2",
                                "plan",
                                "1 1"};
  std::mt19937 random(6);
  int read = 0;
  for (int i = 0; i < 4000; ++i) {
    std::string text = body;
    for (unsigned change = 0; change <= random() % 3; ++change) {
      const std::size_t begin = text.find_first_of(" \n", random() % text.size());
      if (begin == std::string::npos) continue;
      const std::size_t end = std::min(text.find_first_of(" \n", begin + 1), text.size());
      text.replace(begin + 1, end - begin - 1, pieces[random() % std::size(pieces)]);
    }
    auto strange = EngineState::FromText(text + "sum " + watch::Checksum(text) + "\n");
    if (!strange) continue;
    ++read;
    for (const CaveId cave : {1, 2, 3}) strange->View(cave, life.inputs[3000].at);
    Replay(*strange, life.inputs, 3000, 3050);
    Reread(*strange);
  }
  CHECK(read > 0);
}

}  // namespace rindwatch::rules
