// What a list says of how places stand.
#include "tests/daemon/morning/mornings.hpp"

namespace rindwatch::morning {
namespace {

TEST_CASE("air that does not suit what lies in it is told with its figure and what is asked of it") {
  Cave box = Stands("Box 3", rules::CaveState::kOutOfBand, 12.5);
  box.has_lid = true;
  box.of_air = true;
  box.side = 1;
  box.keep = rules::Figure{0.5, 7.5, ""};
  CHECK(FigureWords(Words::English(), box, Monday().day) == "warm: 12.5 °C, keep 0.5 to 7.5");
}

TEST_CASE("what is done where a box grows dry stands beside it, as where it grows damp") {
  Cave box = Stands("Box 1", rules::CaveState::kDrifting, {}, 84);
  box.has_lid = true;
  box.of_air = false;
  box.side = -1;
  box.out_by = At(30, 9, 30);
  CHECK(FigureWords(Words::English(), box, Monday().day) == "84 %, out by 09:30. Lid shut, a wet cloth in it");
  box.state = rules::CaveState::kOutOfBand;
  CHECK(FigureWords(Words::English(), box, Monday().day) == "dry: 84 %. Lid shut, a wet cloth in it");
  box.has_lid = false;
  CHECK(FigureWords(Words::English(), box, Monday().day) == "dry: 84 %");
}

TEST_CASE("a box whose warmth is judged by what it borrows says what of it is not watched") {
  Cave box = BoxTwo();
  box.unwatched = Cave::Unwatched::kHumidity;
  CHECK(StateWords(Words::English(), box) == "humidity not watched");
  List list = Monday();
  list.caves = {box};
  CHECK(Body(Words::English(), list).find("\nBox 2     humidity not watched; look at the lid: drops? dry?\n") !=
        std::string::npos);
  SECTION("also where what it borrows is out of its band") {
    box.state = rules::CaveState::kOutOfBand;
    box.of_air = true;
    box.side = 1;
    box.damp_unseen = true;
    CHECK(FigureWords(Words::English(), box, list.day) == "warm; humidity not watched");
  }
  SECTION("what is measured and not judged shows its figures") {
    box.unwatched = Cave::Unwatched::kJudging;
    box.temperature = 12.4;
    CHECK(StateWords(Words::English(), box) == "measured, not judged");
    CHECK(FigureWords(Words::English(), box, list.day) == "12.4 °C");
  }
}

TEST_CASE("a place without an alarm is out of band, with one it is too cold, and it shows no figure it does not have") {
  List list = Thursday();
  for (Cave& cave : list.caves) cave.state = rules::CaveState::kInBand;
  list.caves[0].state = list.caves[1].state = rules::CaveState::kOutOfBand;
  list.caves[0].side = list.caves[1].side = -1;
  list.caves[0].of_air = list.caves[1].of_air = true;
  list.news = {{"Fridge", rules::CaveState::kOutOfBand, true, -1}};
  list.caves[1].temperature = list.caves[1].humidity = std::nullopt;
  CHECK(Subject(Words::English(), list) == "Seven lines, 20 minutes. Fridge is out of band, cold.");
  CHECK(Body(Words::English(), list).find("\nBox 1     out of band     cold\n") != std::string::npos);
  list.caves[1].called = true;
  CHECK(Body(Words::English(), list).find("\nBox 1     out of band     too cold\n") != std::string::npos);
}

TEST_CASE("places of which there is the same to say share a sentence") {
  List list = Thursday();
  list.caves.resize(3, list.caves.front());
  list.news = {{"Fridge", rules::CaveState::kUnknown},
               {"Box 1", rules::CaveState::kUnknown},
               {"Cellar", rules::CaveState::kUnknown}};
  CHECK(Subject(Words::English(), list) == "Seven lines, 20 minutes. Fridge, Box 1 and Cellar are unknown.");
  for (CaveNews& news : list.news) news = {news.cave, rules::CaveState::kOutOfBand, false, 1};
  list.news[2].side = -1;
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Fridge and Box 1 are out of band, damp. Cellar is out of band, dry.");
}

TEST_CASE("what is unknown says since when and why, alone and among others") {
  List list = Thursday();
  list.news = {{"Cellar", rules::CaveState::kUnknown, true, 0, "01:40", "probe Shelf silent"}};
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Cellar is unknown since 01:40: probe Shelf silent.");
  list.news.push_back({"Fridge", rules::CaveState::kUnknown, true, 0, "", "its probes contradict each other"});
  CHECK(Subject(Words::English(), list) ==
        "Seven lines, 20 minutes. Cellar (since 01:40, probe Shelf silent) and Fridge (its probes contradict each "
        "other) are unknown.");
  Cave cellar = Stands("Cellar", rules::CaveState::kUnknown);
  cellar.why_unknown = "since 01:40: probe Shelf silent";
  CHECK(FigureWords(Words::English(), cellar, list.day) == "since 01:40: probe Shelf silent");
}

TEST_CASE("where no wheel lies there is nothing to look at") {
  Cave box = BoxTwo();
  CHECK(FigureWords(Words::English(), box, Thursday().day) == "look at the lid: drops? dry?");
  box.empty = true;
  CHECK(FigureWords(Words::English(), box, Thursday().day) == "empty");
}

TEST_CASE("humidity that is measured and not judged is never told as in band") {
  Cave fridge = Stands("Fridge", rules::CaveState::kInBand, 12.6, 46);
  const auto said = [&] { return FigureWords(Words::English(), fridge, Saturday().day); };
  CHECK(said() == "12.6 °C, 46 %");
  fridge.damp_judged = false;
  CHECK(said() == "12.6 °C; 46 %, not judged");
  fridge.state = rules::CaveState::kOutOfBand;
  fridge.side = 1;
  CHECK(said() == "warm: 12.6 °C; 46 %, not judged");
  fridge.state = rules::CaveState::kNotWatched;
  fridge.unwatched = Cave::Unwatched::kJudging;
  CHECK(said() == "12.6 °C, 46 %");
}

}  // namespace
}  // namespace rindwatch::morning
