#include "daemon/trial/story.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "daemon/simulate/speech.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Date;
using rules::Instant;
using std::chrono::days;

namespace {

// Days before today, invented for the demo.
constexpr int kBloomiesCame = 9;
constexpr int kPairCame = 8;
constexpr int kPairDry = 6;
constexpr int kCounterWheelCame = 2;
constexpr int kForgotten = 4;  // nobody came
constexpr int kRindWet = 3;    // turned, not washed
constexpr int kUndone = 2;     // signed, undone, signed again
constexpr int kInHaste = 1;    // no time to wash

json::object Channel(const char* kind, const char* pointer) { return {{"kind", kind}, {"pointer", pointer}}; }

}  // namespace

Story::Story(House& house, const web::Router& router, Instant now, std::uint64_t seed)
    : house_(house),
      router_(router),
      home_(house.TheWatch().TheBook().Home()),
      now_(now),
      today_(home_.DayOf(now)),
      random_(seed) {
  chapters_.push_back({house.TheClock().Wall(), &Story::Begin});
  chapters_.push_back({AtLocal(today_ - days{kBloomiesCame}, 17, 20), &Story::BloomiesCome});
  chapters_.push_back({AtLocal(today_ - days{kPairCame}, 16, 40), &Story::PairComes});
  chapters_.push_back({AtLocal(today_ - days{kPairDry}, 7, 35), &Story::PairIsDry});
  chapters_.push_back({AtLocal(today_ - days{kCounterWheelCame}, 16, 5), &Story::CounterWheelComes});
  Plan(home_.DayOf(house.TheClock().Wall()) + days{1}, today_ - days{1});
  chapters_.push_back({AtLocal(today_, 6, 51), &Story::BeginsToday});
  // A shorter past begins in the middle of the story.
  const Instant start = house.TheClock().Wall();
  std::erase_if(chapters_, [start, now](const Chapter& chapter) { return chapter.at < start || chapter.at >= now; });
  std::ranges::stable_sort(chapters_, std::ranges::greater{}, &Chapter::at);
}

void Story::Plan(Date first, Date last) {
  for (Date day = first; day <= last; day += days{1}) {
    if (day == today_ - days{kForgotten}) continue;
    chapters_.push_back({AtLocal(day, 6, 50 + static_cast<int>(random_() % 20)), &Story::MorningRound});
    chapters_.push_back({AtLocal(day, 19, static_cast<int>(random_() % 30)), &Story::EveningRound});
    chapters_.push_back({AtLocal(day, 23, 5), &Story::TakeAlarms});
  }
}

Instant Story::AtLocal(Date day, int hour, int minute) const {
  return home_.zone.ToInstant(rules::LocalTime{day} + std::chrono::hours{hour} + std::chrono::minutes{minute});
}

Instant Story::Next() const { return chapters_.empty() ? Instant::max() : chapters_.back().at; }

void Story::Live(Instant at) {
  while (!chapters_.empty() && chapters_.back().at <= at) {
    const Chapter chapter = chapters_.back();
    chapters_.pop_back();
    (this->*chapter.happens)();
  }
}

// Two probes and three wheels that were made before the watch began.
void Story::Begin() {
  const json::object fridge{{"kind", "fridge"}};
  const auto air = Act("probe", {{"name", "Fridge air"},
                                 {"topic", kDemoFridgeTopic},
                                 {"format", "json"},
                                 {"time_pointer", "/ts"},
                                 {"channels", json::array{Channel("temperature", "/t"), Channel("humidity", "/rh")}},
                                 {"where", {{"new", fridge}}}});
  const json::value inside = air.at("cave");
  Act("probe", {{"name", "Box 1 air"},
                {"topic", kDemoBoxTopic},
                {"format", "json"},
                {"channels", json::array{Channel("temperature", "/temperature"), Channel("humidity", "/humidity")}},
                {"where", {{"new", {{"kind", "box"}, {"inside", inside}}}}}});
  const Date day = home_.DayOf(house_.TheClock().Wall());
  Act("enter", {{"plan", "pressed-semi-hard"},
                {"made", ToText(day - days{12})},
                {"count", 1},
                {"grams", 1500},
                {"lot", "217"},
                {"where", {{"new", {{"kind", "box"}, {"inside", inside}}}}},
                {"starts", json::array{{{"start", "entered box"}, {"day", ToText(day - days{9})}, {"reckoned", true}}}},
                {"last", json::array{{{"kind", "turn"}, {"day", ToText(day - days{1})}},
                                     {{"kind", "wash"}, {"day", ToText(day - days{1})}}}}});
}

void Story::BloomiesCome() {
  for (const CaveRow* cave : house_.TheWatch().TheBook().Caves()) {
    if (cave->name != "Box 1") continue;
    Act("enter", {{"plan", "bloomy"},
                  {"made", ToText(home_.DayOf(house_.TheClock().Wall()) - days{1})},
                  {"count", 6},
                  {"grams", 250},
                  {"lot", "221"},
                  {"where", {{"cave", cave->id}}},
                  {"starts", json::array{}}});
    return;
  }
}

void Story::PairComes() {
  const auto answer = Act("enter", {{"plan", "pressed-semi-hard"},
                                    {"made", ToText(home_.DayOf(house_.TheClock().Wall()))},
                                    {"count", 2},
                                    {"grams", 1500},
                                    {"lot", "220"},
                                    {"where", {{"new", {{"kind", "counter"}}}}},
                                    {"starts", json::array{}}});
  pair_ = answer.at("wheels");
  counter_ = answer.at("cave");
}

// Dry to the touch: into the box.
void Story::PairIsDry() {
  if (pair_.is_null()) return;
  for (const CaveRow* cave : house_.TheWatch().TheBook().Caves()) {
    if (cave->name != "Box 2") continue;
    Act("answer", {{"wheels", pair_}, {"start", "entered box"}, {"move_to", {{"cave", cave->id}}}});
    return;
  }
}

void Story::CounterWheelComes() {
  json::object where{{"cave", counter_}};
  if (counter_.is_null()) where = {{"new", {{"kind", "counter"}}}};
  Act("enter", {{"plan", "pressed-semi-hard"},
                {"made", ToText(home_.DayOf(house_.TheClock().Wall()))},
                {"count", 1},
                {"grams", 1450},
                {"lot", "222"},
                {"where", std::move(where)},
                {"starts", json::array{}}});
}

// Today's round is begun: its first line is signed.
void Story::BeginsToday() {
  const json::object round = Get("/api/round");
  for (const json::value& item : round.at("lines").as_array()) {
    const json::object& line = item.as_object();
    if (line.at("state") != "due") continue;
    Sign(line, house_.TheClock().Wall());
    return;
  }
}

void Story::MorningRound() { DoRound(false); }
void Story::EveningRound() { DoRound(true); }

void Story::DoRound(bool evening) {
  const json::object round = Get("/api/round");
  Instant at = house_.TheClock().Wall();
  for (const json::value& item : round.at("lines").as_array()) {
    const json::object& line = item.as_object();
    const json::string& state = line.at("state").as_string();
    if (state != "due" && state != "late") continue;
    // In the evening only what is asked twice a day.
    if (evening && !line.at("evening").as_bool()) continue;
    Sign(line, at);
    at -= std::chrono::seconds{40};
  }
}

void Story::Sign(const json::object& line, Instant at) {
  const Date day = home_.DayOf(at);
  json::object body{{"wheels", line.at("wheels")}, {"done", line.at("kinds")}, {"skipped", json::array{}}};
  const bool washes = json::serialize(line.at("kinds")).find("wash") != std::string::npos;
  if (day == today_ - days{kRindWet} && washes) {
    body["done"] = json::array{"turn"};
    body["skipped"] = json::array{"wash"};
    body["reason"] = "rind wet";
  }
  if (day == today_ - days{kInHaste} && washes) return;
  const json::object answer = Act("care", body);
  if (day == today_ - days{kUndone} && washes) {
    Act("undo", {{"of", answer.at("id")}});
    Act("care", body);
  }
}

// What rang is taken and called by its name.
void Story::TakeAlarms() {
  const json::object round = Get("/api/round");
  for (const json::value& item : round.at("head").at("alarms").as_array()) {
    const json::object& alarm = item.as_object();
    if (alarm.contains("taken")) continue;
    Act("take", {{"alarm", alarm.at("id")}});
    Act("called", {{"alarm", alarm.at("id")}, {"what", "door"}});
  }
}

json::object Story::Act(const char* kind, json::object body) {
  const std::int64_t now = ToMillis(house_.TheClock().Wall());
  body["id"] = NewId();
  body["kind"] = kind;
  body["tapped_at"] = now;
  body["keeper"] = "IH";
  web::Request request;
  request.method = "POST";
  request.path = "/api/acts";
  request.headers = {{"content-type", "application/json"}, {"sent-at", std::to_string(now)}};
  request.body = json::serialize(body);
  const web::Response response = house_.Ask(router_, request);
  if (response.status != 200)
    throw std::logic_error(fmt::format("the story's {} was refused: {}", kind, response.body));
  return json::parse(response.body).as_object();
}

json::object Story::Get(const char* path) {
  web::Request request;
  request.method = "GET";
  request.path = path;
  return json::parse(house_.Ask(router_, request).body).as_object();
}

std::string Story::NewId() { return fmt::format("{:016x}{:016x}", random_(), random_()); }

}  // namespace rindwatch
