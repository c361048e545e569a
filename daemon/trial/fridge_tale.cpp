#include "daemon/trial/fridge_tale.hpp"

#include "daemon/simulate/speech.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Date;
using std::chrono::days;

namespace {

constexpr const char* kKeeper = "IH";

// Days before today, invented for the demo.
constexpr int kBloomiesCame = 9;
constexpr int kTommeCame = 2;
constexpr int kForgotten = 4;  // nobody came
constexpr int kRindWet = 3;    // turned, not washed
constexpr int kUndone = 2;     // signed, undone, signed again
constexpr int kInHaste = 1;    // no time to wash

json::object Channel(const char* kind, const char* pointer) { return {{"kind", kind}, {"pointer", pointer}}; }

bool Washes(const json::object& line) {
  return json::serialize(line.at("kinds")).find("wash") != std::string::npos && line.at("state") != "done";
}

}  // namespace

FridgeTale::FridgeTale(Phone& phone, rules::Instant now, std::uint64_t seed, Habits habits)
    : Tale(phone, now, seed, habits) {
  At(Start(), [this] { Begin(); });
  At(AtLocal(Today() - days{kBloomiesCame}, 17, 20), [this] { BloomiesCome(); });
  At(AtLocal(Today() - days{kTommeCame}, 16, 5), [this] { TommeComes(); });
  At(AtLocal(Today() - days{kRindWet}, 6, 45), [this] { RindWasWet(); });
  At(AtLocal(Today() - days{kUndone}, 6, 45), [this] { UndoneAndSignedAgain(); });
  for (Date day = phone.Home().DayOf(Start()) + days{1}; day < Today(); day += days{1}) {
    if (day == Today() - days{kForgotten}) continue;
    const bool hasty = day == Today() - days{kInHaste};
    At(AtLocal(day, 6, 50 + Upto(20)), [this, hasty] {
      DoRound(kKeeper, false,
              [hasty](const json::object& line) { return !hasty || !line.contains("kinds") || !Washes(line); });
    });
    At(AtLocal(day, 19, Upto(30)), [this] { DoRound(kKeeper, true); });
    At(AtLocal(day, 23, 5), [this] { TakeAlarms(kKeeper); });
  }
  At(AtLocal(Today(), 6, 51), [this] { BeginsToday(); });
  Bind();
}

// Two probes and two wheels that were made before the watch began.
void FridgeTale::Begin() {
  const json::object fridge{{"kind", "fridge"}};
  const auto air = ThePhone().Act(kKeeper, "probe",
                                  {{"name", "Fridge air"},
                                   {"topic", kDemoFridgeTopic},
                                   {"format", "json"},
                                   {"time_pointer", "/ts"},
                                   {"channels", json::array{Channel("temperature", "/t"), Channel("humidity", "/rh")}},
                                   {"where", {{"new", fridge}}}});
  Hears(kKeeper, 1);
  const json::value& inside = air.at("cave");
  ThePhone().Act(kKeeper, "probe",
                 {{"name", "Box 1 air"},
                  {"topic", kDemoBoxTopic},
                  {"format", "json"},
                  {"channels", json::array{Channel("temperature", "/temperature"), Channel("humidity", "/humidity")}},
                  {"where", {{"new", {{"kind", "box"}, {"inside", inside}}}}}});
  const json::object box{{"new", {{"kind", "box"}, {"inside", inside}}}};
  Enter(kKeeper, {"217", "pressed-semi-hard", 1, 1500, 12}, box);
  Enter(kKeeper, {"219", "washed-soft", 1, 400, 6}, box);
}

json::object FridgeTale::CaveNamed(const char* name) {
  const json::object caves = ThePhone().Get("/api/caves");
  for (const json::value& cave : caves.at("caves").as_array()) {
    if (cave.at("name") == name) return {{"cave", cave.at("id")}};
  }
  return {{"new", {{"kind", "counter"}}}};
}

void FridgeTale::BloomiesCome() { Enter(kKeeper, {"221", "bloomy", 2, 250, 1}, CaveNamed("Box 1")); }

void FridgeTale::TommeComes() { Enter(kKeeper, {"222", "natural-tomme", 1, 1900, 0}, CaveNamed("Counter")); }

// Today's round is begun: its first line is signed.
void FridgeTale::BeginsToday() {
  const json::object round = ThePhone().Get("/api/round");
  for (const json::value& line : round.at("lines").as_array()) {
    if (line.at("state") != "due") continue;
    Sign(kKeeper, line.as_object());
    return;
  }
}

void FridgeTale::RindWasWet() {
  const json::object round = ThePhone().Get("/api/round");
  for (const json::value& line : round.at("lines").as_array()) {
    if (!Washes(line.as_object())) continue;
    ThePhone().Act(kKeeper, "care",
                   {{"wheels", line.at("wheels")},
                    {"done", json::array{"turn"}},
                    {"skipped", json::array{"wash"}},
                    {"reason", "rind wet"}});
    return;
  }
}

void FridgeTale::UndoneAndSignedAgain() {
  const json::object round = ThePhone().Get("/api/round");
  for (const json::value& line : round.at("lines").as_array()) {
    if (line.at("state") != "due") continue;
    const json::object body{{"wheels", line.at("wheels")}, {"done", line.at("kinds")}, {"skipped", json::array{}}};
    const json::object answer = ThePhone().Act(kKeeper, "care", body);
    ThePhone().Act(kKeeper, "undo", {{"of", answer.at("id")}});
    ThePhone().Act(kKeeper, "care", body);
    return;
  }
}

}  // namespace rindwatch
