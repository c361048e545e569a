#include "daemon/trial/farm_tale.hpp"

#include <algorithm>

#include "daemon/simulate/speech.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Date;
using std::chrono::days;

namespace {

constexpr const char* kMaker = "IH";
constexpr const char* kHelper = "TR";
constexpr const char* kWhiteRoom = "White room";
constexpr const char* kCellar = "Cellar";
constexpr const char* kMakeRoom = "Make room";

json::object Channel(const char* kind, const char* pointer) { return {{"kind", kind}, {"pointer", pointer}}; }

bool IsIn(const json::object& line, const char* cave) { return line.at("cave_name") == cave; }

}  // namespace

FarmTale::FarmTale(Phone& phone, rules::Instant now, std::uint64_t seed, Habits habits)
    : Tale(phone, now, seed, habits) {
  At(Start(), [this] { Begin(); });
  // What is made while the tale goes on.
  At(AtLocal(Today() - days{14}, 15, 40), [this] {
    Enter(kMaker, {"302", "bloomy", 24, 250, 0, "W2"}, CaveNamed(kWhiteRoom));
  });
  At(AtLocal(Today() - days{9}, 15, 10), [this] {
    Enter(kMaker, {"303", "lactic", 30, 120, 0}, CaveNamed(kMakeRoom));
    WalkYoungRoomsFirst();
  });
  At(AtLocal(Today() - days{3}, 16, 20), [this] {
    Enter(kMaker, {"244", "natural-tomme", 18, 2000, 0}, CaveNamed(kMakeRoom));
  });
  for (Date day = phone.Home().DayOf(Start()) + days{1}; day < Today(); day += days{1}) {
    const auto whole = [](const json::object&) { return true; };
    const auto cellar = [](const json::object& line) { return line.contains("cave_name") && IsIn(line, kCellar); };
    // On Sundays and Mondays the maker is alone.
    const unsigned weekday = std::chrono::weekday{day}.iso_encoding();
    const bool helped = weekday != 7 && weekday != 1;
    if (helped) At(AtLocal(day, 7, 20 + Upto(20)), [this, cellar] { DoRound(kHelper, false, cellar); });
    At(AtLocal(day, 8, Upto(20)), [this, whole] { DoRound(kMaker, false, whole); });
    At(AtLocal(day, 18, 30 + Upto(20)), [this] { DoRound(kMaker, true); });
    At(AtLocal(day, 22, 10), [this] { TakeAlarms(kMaker); });
  }
  Bind();
}

void FarmTale::Begin() {
  ThePhone().Act(kMaker, "keeper", {{"name", kMaker}});
  ThePhone().Act(kMaker, "keeper", {{"name", kHelper}});
  Hears(kMaker, 1);
  Hears(kHelper, 2);
  const auto air = ThePhone().Act(kMaker, "probe",
                                  {{"name", "Cellar air"},
                                   {"topic", kDemoFridgeTopic},
                                   {"format", "json"},
                                   {"time_pointer", "/ts"},
                                   {"channels", json::array{Channel("temperature", "/t"), Channel("humidity", "/rh")}},
                                   {"where", {{"new", {{"kind", "room"}, {"name", kCellar}}}}}});
  const json::object cellar{{"cave", air.at("cave")}};
  const json::object white{{"new", {{"kind", "room"}, {"name", kWhiteRoom}}}};
  Enter(kMaker, {"301", "bloomy", 24, 250, 2, "W1"}, white);
  for (const Lot& lot : {Lot{"304", "lactic", 22, 120, 6, "W3"}, Lot{"305", "washed-soft", 20, 400, 9, "W5"}}) {
    Enter(kMaker, lot, CaveNamed(kWhiteRoom));
  }
  for (const Lot& lot :
       {Lot{"240", "natural-tomme", 24, 2000, 25, "A1"}, Lot{"236", "natural-tomme", 24, 2000, 55, "A2"},
        Lot{"230", "natural-tomme", 20, 2000, 100, "A3"}, Lot{"228", "washed-curd", 16, 3000, 40, "A5"},
        Lot{"221", "italian-style-pressed", 18, 2500, 60, "A6"}, Lot{"233", "pressed-semi-hard", 18, 1500, 15, "B1"},
        Lot{"220", "alpine", 12, 8000, 80, "B2"}, Lot{"210", "clothbound", 12, 6000, 150, "B3"},
        Lot{"205", "hard-grating", 10, 26000, 200, "B4"}}) {
    Enter(kMaker, lot, cellar);
  }
  Enter(kMaker, {"225", "blue", 8, 1000, 12}, {{"new", {{"kind", "box"}, {"inside", air.at("cave")}}}});
  ThePhone().Act(kMaker, "note", {{"text", "Farm and keepers are invented."}});
}

// What was made last is touched before what is older.
void FarmTale::WalkYoungRoomsFirst() {
  json::array order;
  for (const char* first : {kMakeRoom, kWhiteRoom}) order.push_back(CaveNamed(first).at("cave"));
  const json::object caves = ThePhone().Get("/api/caves");
  for (const json::value& cave : caves.at("caves").as_array()) {
    if (std::ranges::find(order, cave.at("id")) == order.end()) order.push_back(cave.at("id"));
  }
  ThePhone().Act(kMaker, "order", {{"caves", std::move(order)}, {"by_room", false}});
}

// White rinds never share the room of the others.
json::object FarmTale::WhereTo(const json::object& question) {
  const bool white = question.at("family") == "Lactic" || question.at("family") == "Bloomy";
  json::object where = CaveNamed(white ? kWhiteRoom : kCellar);
  where["shelf"] = white ? "W4" : "A4";
  return where;
}

json::object FarmTale::CaveNamed(const std::string& name) {
  const json::object caves = ThePhone().Get("/api/caves");
  for (const json::value& cave : caves.at("caves").as_array()) {
    if (json::string_view(cave.at("name").as_string()) == name) return {{"cave", cave.at("id")}};
  }
  return {{"new", {{"kind", "counter"}, {"name", name}}}};
}

}  // namespace rindwatch
