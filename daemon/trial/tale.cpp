#include "daemon/trial/tale.hpp"

#include <algorithm>

#include "daemon/trial/farm_tale.hpp"
#include "daemon/trial/fridge_tale.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Date;
using rules::Instant;
using std::chrono::days;

namespace {

bool Asks(const json::object& line) { return line.at("state") == "due" || line.at("state") == "late"; }

bool Names(const json::object& line, const char* kind) {
  return std::ranges::any_of(line.at("kinds").as_array(), [kind](const json::value& item) { return item == kind; });
}

// What the keepers of the past found when they looked.
const char* CauseOf(const json::object& alarm, Instant now) {
  const json::value& kind = alarm.at("kind");
  const auto is = [&kind](std::initializer_list<const char*> kinds) {
    return std::ranges::any_of(kinds, [&kind](const char* one) { return kind == one; });
  };
  if (is({"plant weak"})) return "plant";
  if (is({"power gone", "unwatched"})) return "power";
  if (is({"probe silent", "probe stuck", "probe wet", "probes disagree", "battery low"})) return "probe";
  if (is({"door open"})) return "door";
  if (!is({"too warm", "too cold"})) return "other";
  // A door is shut again by then.
  constexpr rules::Millis kLongestDoor = std::chrono::minutes{90};
  const Instant since = rules::FromMillis(alarm.at("since").to_number<std::int64_t>());
  return now - since > kLongestDoor ? "plant" : "door";
}

}  // namespace

Tale::Tale(Phone& phone, Instant now, std::uint64_t seed, Habits habits)
    : phone_(phone), habits_(habits), start_(phone.Now()), now_(now), today_(phone.Home().DayOf(now)), random_(seed) {}

void Tale::At(Instant at, std::function<void()> happens) { chapters_.push_back({at, std::move(happens)}); }

Instant Tale::AtLocal(Date day, int hour, int minute) const {
  return phone_.Home().zone.ToInstant(rules::LocalTime{day} + std::chrono::hours{hour} + std::chrono::minutes{minute});
}

void Tale::Bind() {
  std::erase_if(chapters_, [this](const Chapter& chapter) { return chapter.at < start_ || chapter.at >= now_; });
  std::ranges::stable_sort(chapters_, std::ranges::greater{}, &Chapter::at);
}

Instant Tale::Next() const { return chapters_.empty() ? Instant::max() : chapters_.back().at; }

void Tale::Live(Instant at) {
  while (!chapters_.empty() && chapters_.back().at <= at) {
    const auto happens = std::move(chapters_.back().happens);
    chapters_.pop_back();
    happens();
  }
}

json::array Tale::StartsBehind(const Lot& lot) {
  json::array starts;
  const Date made = phone_.Home().DayOf(phone_.Now()) - days{lot.age};
  const json::object plans = phone_.Get("/api/plans");
  for (const json::value& offer : plans.at("plans").as_array()) {
    if (offer.at("id") != lot.plan) continue;
    int day = 0;
    for (const json::value& part : offer.at("parts").as_array()) {
      // A part that begins with a care has no usual day: from there on the keeper says what happened.
      if (!part.as_object().contains("usual_low")) break;
      day += part.at("usual_low").to_number<int>();
      if (day >= lot.age) break;
      starts.push_back({{"start", part.at("start")}, {"day", ToText(made + days{day})}, {"reckoned", true}});
    }
  }
  return starts;
}

json::object Tale::Enter(const std::string& keeper, const Lot& lot, json::object where) {
  if (*lot.shelf != '\0') where["shelf"] = lot.shelf;
  return phone_.Act(keeper, "enter",
                    {{"plan", lot.plan},
                     {"made", ToText(phone_.Home().DayOf(phone_.Now()) - days{lot.age})},
                     {"count", lot.count},
                     {"grams", lot.grams},
                     {"lot", lot.name},
                     {"where", std::move(where)},
                     {"starts", StartsBehind(lot)}});
}

void Tale::Sign(const std::string& keeper, const json::object& line) {
  phone_.Act(keeper, "care", {{"wheels", line.at("wheels")}, {"done", line.at("kinds")}, {"skipped", json::array{}}});
}

void Tale::SignCarelessly(const std::string& keeper, const json::object& line) {
  json::object body{{"wheels", line.at("wheels")}, {"done", line.at("kinds")}, {"skipped", json::array{}}};
  if (Names(line, "wash") && Names(line, "turn") && Happens(habits_.in_part)) {
    body["done"] = json::array{"turn"};
    body["skipped"] = json::array{"wash"};
    body["reason"] = "rind wet";
  } else if (line.at("wheels").as_array().size() > 1 && Happens(habits_.one_left_out)) {
    body["wheels"].as_array().pop_back();
  }
  const json::object answer = phone_.Act(keeper, "care", body);
  if (Happens(habits_.signs_twice)) {
    phone_.Act(keeper, "undo", {{"of", answer.at("id")}});
    phone_.Act(keeper, "care", body);
  }
}

void Tale::DoRound(const std::string& keeper, bool evening, const std::function<bool(const json::object&)>& mine) {
  if (Happens(habits_.stays_away)) return;
  const json::object round = phone_.Get("/api/round");
  for (const json::value& item : round.at("lines").as_array()) {
    const json::object& line = item.as_object();
    if (!Asks(line) || !mine(line)) continue;
    // In the evening only what is asked twice a day.
    if (evening && !line.at("evening").as_bool()) continue;
    if (Happens(habits_.passes_over)) continue;
    if (!evening && Happens(habits_.writes_later)) {
      const Instant done = phone_.Now();
      At(AtLocal(phone_.Home().DayOf(done), 20, 40), [this, keeper, line, done] {
        phone_.Act(keeper, "care",
                   {{"wheels", line.at("wheels")},
                    {"done", line.at("kinds")},
                    {"skipped", json::array{}},
                    {"said_at", ToMillis(done)}});
      });
      Bind();
      continue;
    }
    SignCarelessly(keeper, line);
  }
  if (!evening) AnswerQuestions(keeper, round, mine);
}

void Tale::AnswerQuestions(const std::string& keeper, const json::object& round,
                           const std::function<bool(const json::object&)>& mine) {
  for (const json::value& item : round.at("questions").as_array()) {
    const json::object& question = item.as_object();
    if (!mine(question) || Happens(habits_.not_yet)) continue;
    json::object body{{"wheels", question.at("wheels")}};
    if (question.at("kind") == "branch") {
      const json::array& roads = question.at("options").as_array();
      const bool keeps_on = std::ranges::any_of(roads, [](const json::value& road) { return road == "keep on"; });
      body["option"] = keeps_on ? json::value("keep on") : roads.front();
    } else {
      body["start"] = question.at("start");
      const json::value* where = question.if_contains("where");
      if (where && !where->as_array().empty()) body["move_to"] = WhereTo(question);
    }
    phone_.Act(keeper, "answer", std::move(body));
  }
}

json::object Tale::WhereTo(const json::object& question) {
  return {{"cave", question.at("where").as_array().front().at("cave")}};
}

void Tale::Hears(const std::string& keeper, int rank) {
  std::string box = keeper;
  for (char& c : box) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  phone_.Act(keeper, "hearing",
             {{"name", keeper},
              {"rank", rank},
              {"mail", json::array{json::string(box + "@cave.example")}},
              {"least", "watch"},
              {"quiet", {{"from", "22:00"}, {"to", "06:00"}}},
              {"list", "work"},
              {"morning", "06:30"},
              {"evening", "18:00"}});
}

void Tale::TakeAlarms(const std::string& keeper) {
  const json::object round = phone_.Get("/api/round");
  for (const json::value& item : round.at("head").at("alarms").as_array()) {
    const json::object& alarm = item.as_object();
    if (alarm.contains("taken")) continue;
    phone_.Act(keeper, "take", {{"alarm", alarm.at("id")}});
    phone_.Act(keeper, "called", {{"alarm", alarm.at("id")}, {"what", CauseOf(alarm, phone_.Now())}});
  }
}

std::unique_ptr<Tale> TaleOf(Scene scene, Phone& phone, Instant now, std::uint64_t seed, bool careless) {
  const Habits habits = careless ? Habits::Careless() : Habits::Careful();
  if (scene == Scene::kFarm) return std::make_unique<FarmTale>(phone, now, seed, habits);
  return std::make_unique<FridgeTale>(phone, now, seed, habits);
}

}  // namespace rindwatch
