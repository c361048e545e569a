// Facts follow from a line alone, and a book built from the store's facts is the book that was kept live.
#include "daemon/book/facts.hpp"

#include <random>

#include "rules/care/known.hpp"
#include "tests/catch.hpp"
#include "tests/daemon/book/keeping.hpp"
#include "tests/daemon/book/portrait.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("the facts of a line that was stored are those that were judged") {
  Keeping keeping;
  json::object enter = InTheBox(PressedWheels(2, NewCaveIn("box", json::object{{"kind", "fridge"}}), 12), 9);
  enter["last"] = json::array{{{"kind", "turn"}, {"day", DaysAgo(1)}}};
  auto judged = std::get<Judged>(keeping.Judge(keeping.Act("enter", enter)));
  JournalLine stored;  // what the store gives back of a line
  stored.id = judged.line.id;
  stored.kind = judged.line.kind;
  stored.wheels = judged.line.wheels;
  stored.cave = judged.line.cave;
  stored.at = judged.line.at;
  stored.body = judged.line.body;
  stored.given = judged.line.given;
  const auto again = FactsOf(stored);
  REQUIRE(again.size() == judged.facts.size());
  for (std::size_t n = 0; n < again.size(); ++n) {
    CHECK(again[n].subject_kind == judged.facts[n].subject_kind);
    CHECK(again[n].subject == judged.facts[n].subject);
    CHECK(again[n].what == judged.facts[n].what);
    CHECK(again[n].from == judged.facts[n].from);
    CHECK(again[n].value == judged.facts[n].value);
  }
}

TEST_CASE("lines of the daemon's own have no facts but an alarm's change") {
  CHECK(FactsOf(OwnLine("started", "started 1", {{"watched_until", nullptr}}, kThursday)).empty());
  CHECK(FactsOf(OwnLine("stopped", "stopped 1", {}, kThursday)).empty());
  const auto facts = FactsOf(OwnLine("alarm", "a | raised | 1", {{"alarm", "a"}, {"change", "raised"}}, kThursday));
  REQUIRE(facts.size() == 1);
  CHECK(facts.front().what == "change");
}

// ---- by chance ----

// A keeper who does all kinds of things, sensible or not, some of them late, some undone before they arrive.
class ChanceKeeper {
 public:
  explicit ChanceKeeper(unsigned seed) : random_(seed) {}

  json::object Act(Keeping& keeping) {
    keeping.now += rules::Millis{Upto(5 * 3'600'000)};
    json::object act = keeping.Act(Kind(), {});
    const std::string kind(act.at("kind").as_string());
    for (auto& [name, value] : FieldsOf(kind, keeping)) act[name] = value;
    if (Upto(4) == 0) act["tapped_at"] = ToMillis(keeping.now - rules::Millis{Upto(48 * 3'600'000)});
    if (Upto(6) == 0) act["said_at"] = act.at("tapped_at").as_int64() - Upto(24 * 3'600'000);
    return act;
  }

 private:
  std::int64_t Upto(std::int64_t bound) {
    return static_cast<std::int64_t>(random_() % static_cast<std::uint64_t>(bound));
  }
  const char* Kind() {
    static constexpr const char* kinds[] = {
        "enter", "care", "care",   "care",  "undo",     "undo",      "answer", "move",  "gone", "cave", "limits",
        "take",  "note", "called", "probe", "unhang",   "hold",      "cut",    "split", "band", "plan", "fault",
        "fault", "rule", "away",   "order", "calendar", "plan text", "keeper", "share", "feed", "past"};
    return kinds[Upto(std::size(kinds))];
  }
  json::object Where(const Keeping& keeping) {
    json::object where;
    const char* kinds[] = {"counter", "box", "fridge", "room"};
    const auto caves = keeping.book.NextCave() - 1;
    if (caves > 0 && Upto(3) != 0) {
      where = InCave(1 + Upto(caves));
    } else if (caves > 0 && Upto(2) == 0) {
      where = NewCaveIn("box", 1 + Upto(caves));
    } else if (Upto(2) == 0) {
      where = NewCaveIn("box", json::object{{"kind", "fridge"}});
    } else {
      where = NewCave(kinds[Upto(4)]);
    }
    if (Upto(3) == 0) where["shelf"] = fmt::format("A{}", 1 + Upto(3));
    return where;
  }
  json::array SomeWheels(const Keeping& keeping) {
    json::array wheels;
    for (std::int64_t id = 1; id < keeping.book.NextWheel(); ++id) {
      if (Upto(3) == 0) wheels.push_back(id);
    }
    return wheels;
  }
  // An act that was, or one that is still to come.
  std::string AnAct(const Keeping& keeping) {
    return IdOf(static_cast<std::uint64_t>(1 + Upto(static_cast<std::int64_t>(keeping.next_id) + 3)));
  }

  json::object FieldsOf(const std::string& kind, const Keeping& keeping) {
    if (kind == "enter") {
      json::object enter = PressedWheels(static_cast<int>(1 + Upto(3)), Where(keeping), static_cast<int>(Upto(40)));
      if (Upto(2) == 0) enter["plan"] = "bloomy";
      if (Upto(2) == 0) enter["lot"] = fmt::format("{}", 200 + Upto(9));
      if (Upto(2) == 0) enter["grams"] = 200 + Upto(2000);
      if (Upto(2) == 0) enter["last"] = json::array{{{"kind", "turn"}, {"day", DaysAgo(static_cast<int>(Upto(3)))}}};
      return enter;
    }
    if (kind == "care") {
      json::object care{{"wheels", SomeWheels(keeping)}, {"done", json::array{Upto(2) == 0 ? "wash" : "turn"}}};
      if (Upto(3) == 0) care["skipped"] = json::array{"pat"};
      if (Upto(3) == 0) care["reason"] = "rind wet";
      return care;
    }
    if (kind == "undo") {
      json::object undo{{"of", AnAct(keeping)}};
      if (Upto(3) == 0) undo["wheels"] = SomeWheels(keeping);
      return undo;
    }
    if (kind == "answer" && Upto(3) == 0)
      return {{"wheels", SomeWheels(keeping)}, {"option", Upto(2) == 0 ? "eat young" : "keep on"}};
    if (kind == "answer") {
      json::object answer{{"wheels", SomeWheels(keeping)}, {"start", "entered box"}};
      if (Upto(2) == 0) answer["move_to"] = Where(keeping);
      return answer;
    }
    if (kind == "move") return {{"wheels", SomeWheels(keeping)}, {"to", Where(keeping)}};
    if (kind == "gone") return {{"wheels", SomeWheels(keeping)}, {"how", "eaten"}};
    if (kind == "cave") return {{"cave", 1 + Upto(4)}, {"name", fmt::format("Cave of {}", Upto(9))}};
    if (kind == "limits") return {{"cave", 1 + Upto(4)}, {"temperature", {{"low", Upto(9)}, {"high", 10 + Upto(9)}}}};
    if (kind == "take") return {{"alarm", AnAct(keeping)}};
    if (kind == "called") return {{"alarm", AnAct(keeping)}, {"what", Upto(2) == 0 ? "door" : "plant"}};
    if (kind == "note") return {{"text", "It smells of cellar."}};
    if (kind == "hold") return {{"wheels", SomeWheels(keeping)}, {"held", Upto(2) == 0}, {"why", "slime"}};
    if (kind == "cut") return {{"wheels", SomeWheels(keeping)}, {"left", 0.5}, {"how", "eaten"}};
    if (kind == "split") return {{"wheels", SomeWheels(keeping)}, {"lot", fmt::format("b{}", Upto(20))}};
    if (kind == "band") return {{"wheels", SomeWheels(keeping)}, {"temperature", {{"low", 8}, {"high", 10 + Upto(3)}}}};
    if (kind == "plan") {
      return {{"wheels", SomeWheels(keeping)},
              {"plan", Upto(2) == 0 ? "bloomy" : "pressed-semi-hard"},
              {"version", 1 + Upto(2)}};
    }
    if (kind == "plan text")
      return {{"plan", "bloomy"},
              {"version", 1},
              {"copy_as", fmt::format("Own {}", Upto(3))},
              {"wheels", SomeWheels(keeping)}};
    if (kind == "fault") {
      return {
          {"what", "slime"}, {"wheels", SomeWheels(keeping)}, {"of", 20}, {"agreed", Upto(3) != 0}, {"hold", "lot"}};
    }
    if (kind == "rule") return {{"wheels", SomeWheels(keeping)}};
    if (kind == "away")
      return {{"from", DaysAgo(static_cast<int>(Upto(9)))}, {"back", DaysAgo(-static_cast<int>(Upto(4)))}};
    if (kind == "order") return {{"caves", Ids({1 + Upto(3)})}, {"by_room", Upto(2) == 0}};
    if (kind == "calendar") return {{"cave", 1 + Upto(3)}, {"care_days", Ids({1 + Upto(7)})}};
    if (kind == "keeper") return {{"name", Upto(2) == 0 ? "IH" : "TR"}, {"leaves", Upto(3) == 0}};
    if (kind == "share") {
      return {{"day", DaysAgo(0)},
              {"by", Upto(2) == 0 ? "IH" : "TR"},
              {"caves", Ids({1 + Upto(3)})},
              {"lines", json::array{}}};
    }
    if (kind == "past") {
      const auto today = keeping.book.Home().DayOf(keeping.now);
      return {{"how", Upto(3) == 0 ? "away" : "all fine"},
              {"from", rules::ToText(today - std::chrono::days{1 + Upto(4)})},
              {"to", rules::ToText(today - std::chrono::days{1})}};
    }
    if (kind == "feed") return {{"open", Upto(2) == 0}};
    if (kind == "probe") return AirProbe("Air", fmt::format("air/{}", Upto(3)).c_str(), Where(keeping));
    return {{"probe", 1 + Upto(3)}};
  }

  std::mt19937_64 random_;
};

std::set<std::string> ActsOf(const Keeping& keeping) {
  std::set<std::string> acts;
  for (std::uint64_t id = 1; id < keeping.next_id + 5; ++id) acts.insert(IdOf(id));
  return acts;
}

TEST_CASE("a book read from the store is the book that was kept live, whatever was done in it") {
  const unsigned seed = GENERATE(range(1u, 13u));
  CAPTURE(seed);
  TempFolder folder;
  Rig rig(folder / "rind.db");
  rig.Begin();
  Keeping keeping;
  ChanceKeeper keeper(seed);
  for (int times = 0; times < 90; ++times) {
    auto judged = keeping.Judge(keeper.Act(keeping));
    if (std::holds_alternative<ActFault>(judged)) continue;
    Judged& sound = std::get<Judged>(judged);
    const auto result = rig.Append(sound.line, sound.facts);
    REQUIRE(result.kind == AppendResult::Kind::kWritten);
    keeping.Take(std::move(sound));
  }
  CHECK(keeping.lines.size() > 20);

  rig.OpenOnly();
  Book read(Vienna());
  rig.store->ReadFacts([&read](const JournalLine& line, const Fact& fact) { read.Take(line, fact); });
  CHECK(Portrait(read, ActsOf(keeping)).Text() == Portrait(keeping.book, ActsOf(keeping)).Text());
  rig.store.reset();
  CHECK(CheckDatabase(folder / "rind.db", FactsOf).faults.empty());
}

// The book's own answer to "is it undone" and the care's, which gets the undos handed over, must be one.
TEST_CASE("the book and the care agree on what was undone, whatever was done") {
  const unsigned seed = GENERATE(range(100u, 130u));
  CAPTURE(seed);
  Keeping keeping;
  ChanceKeeper keeper(seed);
  for (int times = 0; times < 80; ++times) {
    auto judged = keeping.Judge(keeper.Act(keeping));
    if (auto* sound = std::get_if<Judged>(&judged)) keeping.Take(std::move(*sound));
  }
  for (const WheelRow* wheel : keeping.book.Wheels()) {
    auto history = wheel->History();
    history.gone.reset();
    const auto known = rules::KnownAt(history, keeping.now);
    for (const rules::CareAct& act : history.acts) {
      const bool counts = std::ranges::any_of(known.acts, [&](const rules::CareAct* one) { return one->id == act.id; });
      if (counts == keeping.book.IsUndone(act.id, wheel->id))
        FAIL_CHECK("wheel " << wheel->id << ", act " << act.id.Text());
    }
  }
  CHECK(keeping.lines.size() > 20);
}

}  // namespace
}  // namespace rindwatch
