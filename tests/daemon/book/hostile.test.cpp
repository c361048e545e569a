// Whatever stands in an act, the desk answers: a line whose facts the book takes in, or a fault in the keeper's words.
#include <random>

#include "daemon/round/round.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"

namespace rindwatch {
namespace {

using namespace testing;

class Spoiler {
 public:
  explicit Spoiler(unsigned seed) : random_(seed) {}

  // One value somewhere in it becomes another, goes away or comes twice.
  void Spoil(json::value& value) {
    if (auto* object = value.if_object(); object && !object->empty() && Upto(8) != 0) {
      auto member = object->begin() + static_cast<std::ptrdiff_t>(Upto(object->size()));
      if (Upto(8) == 0) {
        object->erase(member);
      } else {
        Spoil(member->value());
      }
      return;
    }
    if (auto* array = value.if_array(); array && !array->empty() && Upto(4) != 0) {
      if (Upto(6) == 0) array->push_back(json::value(array->front()));
      return Spoil((*array)[Upto(array->size())]);
    }
    value = Odd();
  }

 private:
  std::size_t Upto(std::size_t bound) { return static_cast<std::size_t>(random_() % bound); }
  json::value Odd() {
    const json::value odd[] = {nullptr,
                               true,
                               0,
                               -1,
                               3,
                               3.5,
                               1e300,
                               std::numeric_limits<double>::infinity(),
                               std::numeric_limits<std::int64_t>::min(),
                               std::numeric_limits<std::uint64_t>::max(),
                               "",
                               "x",
                               "2026-02-30",
                               "0001-01-01",
                               "9999-12-31",
                               json::string(3000, 'a'),
                               json::string("\0\x01\x7f", 3),
                               "\xff\xfe",
                               json::array{},
                               json::array{nullptr},
                               json::array(100, json::value(1)),
                               json::object{},
                               json::object{{"new", {{"kind", "box"}, {"inside", {{"kind", "box"}}}}}}};
    return odd[Upto(std::size(odd))];
  }
  std::mt19937_64 random_;
};

// One of each kind, sound in the house below.
std::vector<std::pair<const char*, json::object>> SoundActs() {
  json::object enter = InTheBox(PressedWheels(2, NewCaveIn("box", json::object{{"kind", "fridge"}}), 12), 9);
  enter["last"] = json::array{{{"kind", "turn"}, {"day", DaysAgo(1)}}};
  enter["grams"] = 1500;
  enter["lot"] = "217";
  json::object probe = AirProbe("Air", "a/b", InCave(1));
  probe["time_pointer"] = "/at";
  json::object to = InCave(1);
  to["shelf"] = "A1";
  return {
      {"enter", enter},
      {"care",
       {{"wheels", Ids({1, 2})}, {"done", json::array{"turn"}}, {"skipped", json::array{"wash"}}, {"reason", "wet"}}},
      {"care",
       {{"wheels", Ids({1})},
        {"done", json::array{"weigh", "look"}},
        {"skipped", json::array{}},
        {"grams", 900},
        {"clears", true},
        {"left", {{"wheels", Ids({2})}, {"why", "x"}}}}},
      {"undo", {{"of", IdOf(1)}, {"wheels", Ids({1})}}},
      {"answer", {{"wheels", Ids({1})}, {"start", "entered box"}, {"day", DaysAgo(1)}, {"move_to", to}}},
      {"answer", {{"wheels", Ids({1})}, {"option", "keep on"}}},
      {"move", {{"wheels", Ids({1})}, {"to", to}}},
      {"gone", {{"wheels", Ids({1})}, {"how", "eaten"}}},
      {"limits", {{"cave", 1}, {"temperature", {{"low", 9}, {"high", 12}}}, {"humidity", {{"low", 80}, {"high", 90}}}}},
      {"watching",
       {{"cave", 1},
        {"settings", {{"over: back inside for", 90}}},
        {"off", json::array{"too damp"}},
        {"ready_cheese", false}}},
      {"cave", {{"cave", 1}, {"name", "Blue lid"}}},
      {"take", {{"alarm", "a"}}},
      {"called", {{"alarm", "a"}, {"what", "door"}}},
      {"aside", {{"alarm", "a"}, {"until", ToMillis(kThursday + 1h)}}},
      {"here", {{"cave", 1}}},
      {"out", {{"cave", 1}}},
      {"note", {{"text", "x"}, {"cave", 1}, {"wheels", Ids({1})}}},
      {"probe", probe},
      {"unhang", {{"probe", 1}}},
      {"hold", {{"wheels", Ids({1})}, {"held", true}, {"why", "slime"}}},
      {"cut", {{"wheels", Ids({1})}, {"left", 0.5}, {"how", "eaten"}}},
      {"split", {{"wheels", Ids({1})}, {"lot", "1b"}}},
      {"band", {{"wheels", Ids({1})}, {"temperature", {{"low", 9}, {"high", 12}}}, {"humidity", nullptr}}},
      {"plan", {{"wheels", Ids({1})}, {"plan", "bloomy"}, {"version", 1}}},
      {"plan text",
       {{"plan", "pressed-semi-hard"},
        {"version", 1},
        {"edits", json::array{{{"part", 1},
                               {"stage", 0},
                               {"set",
                                {{"humidity_band", {{"low", 80}, {"high", 96}}},
                                 {"temperature_band", {{"low", 9}, {"high", 15}}}}},
                               {"why", "dry house"}}}},
        {"wheels", Ids({1})}}},
      {"plan text", {{"plan", "bloomy"}, {"version", 1}, {"copy_as", "Own"}, {"wheels", json::array{}}}},
      {"fault",
       {{"what", "slime"}, {"wheels", Ids({1, 2})}, {"of", 2}, {"note", "x"}, {"agreed", true}, {"hold", "lot"}}},
      {"away", {{"from", DaysAgo(0)}, {"back", DaysAgo(-3)}, {"caves", Ids({1})}}},
      {"order", {{"caves", Ids({1})}, {"by_room", true}}},
      {"order", {{"cave", 1}, {"shelves", json::array{"A1", "B1"}}}},
      {"calendar", {{"cave", 1}, {"care_days", Ids({3, 6})}}},
      {"past", {{"how", "away"}, {"from", DaysAgo(3)}, {"to", DaysAgo(1)}}},
      {"keeper", {{"name", "TR"}, {"leaves", false}}},
      {"share", {{"day", DaysAgo(0)}, {"by", "IH"}, {"caves", Ids({1})}, {"lines", json::array{"x"}}}},
      {"feed", {{"open", true}}},
      {"rule",
       {{"wheels", Ids({1})},
        {"rule",
         {{"name", "60 days"},
          {"start", "made"},
          {"min_celsius", 1.7},
          {"min_days", 60},
          {"not_counting", json::array{"drying"}},
          {"vouching", true}}}}},
      {"release", {{"wheels", Ids({1})}, {"override", {{"name", "IH"}, {"reason", "x"}}}}}};
}

Keeping Furnished() {
  Keeping keeping;
  keeping.Do("enter", PressedWheels(2, NewCave("counter")));
  keeping.Do("probe", AirProbe("Air", "a/b", InCave(1)));
  return keeping;
}

TEST_CASE("one of each kind of act is sound") {
  for (const auto& [kind, fields] : SoundActs()) {
    CAPTURE(kind);
    Keeping keeping = Furnished();
    CHECK(keeping.Refused(kind, fields).what == "");
  }
}

TEST_CASE("whatever is spoilt in an act, the desk answers and the book stands") {
  const unsigned seed = GENERATE(range(1u, 9u));
  CAPTURE(seed);
  Spoiler spoiler(seed);
  const Keeping furnished = Furnished();
  int refused = 0, taken = 0;
  for (int times = 0; times < 60; ++times) {
    for (const auto& [kind, fields] : SoundActs()) {
      Keeping keeping = furnished;
      json::value act = keeping.Act(kind, fields);
      spoiler.Spoil(act);
      if (times % 3 == 0) spoiler.Spoil(act);
      const std::string body = json::serialize(act);
      CAPTURE(body);
      try {
        auto judged = JudgeAct(keeping.book, body, std::nullopt, keeping.now);
        if (const auto* fault = std::get_if<ActFault>(&judged)) {
          ++refused;
          if (fault->what.empty()) FAIL_CHECK("refused without a word");
        } else {
          ++taken;
          keeping.Take(std::get<Judged>(std::move(judged)));
          keeping.book.InputsOf(keeping.lines.back(), FactsOf(keeping.lines.back()));
          RoundAsOf(keeping.book, keeping.now);
        }
      } catch (const std::exception& broken) {
        FAIL_CHECK(broken.what());
      } catch (const ActFault& fault) {
        FAIL_CHECK(fault.what);
      }
    }
  }
  CHECK(refused > 100);
  CHECK(taken > 50);
}

}  // namespace
}  // namespace rindwatch
