// A fridge whose carbon dioxide rings when it is told to, with keepers who hear by mail.
#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "daemon/notices/notices.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/notices/post.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch::testing {

using Texts = std::vector<std::string>;

// It begins on Thursday, 09:00 in Vienna, or earlier.
struct Heard {
  TempFolder folder;
  Post post;
  std::unique_ptr<Household> house;
  std::unique_ptr<Notices> notices;
  std::uint64_t acts = 0;

  explicit Heard(rules::Millis earlier = {}) {
    Start(kThursday - earlier);
    house->Do("probe", {{"name", "Gas"},
                        {"topic", "fridge/gas"},
                        {"format", "json"},
                        {"channels", json::array{{{"kind", "carbon dioxide"}, {"pointer", "/co2"}}}},
                        {"where", NewCave("fridge")}});
  }
  void Start(rules::Instant now) {
    StartHouse(now);
    StartNotices();
  }
  // It watches, and nobody is told.
  void StartHouse(rules::Instant now) {
    notices.reset();
    house.reset();
    house = std::make_unique<Household>(folder / "rind.db", now);
    acts += 1000;
    house->SetActs(acts);
    house->TheConfig().notices.mail.server = "mail.cave.example";
    house->TheConfig().notices.mail.from = "watch@cave.example";
    house->Begin();
  }
  void StartNotices() {
    notices = std::make_unique<Notices>(house->Context(), house->Schedules(),
                                        Notices::Ways{&post, "http://cave.example:8417"});
    house->TheWatch().Tell(*notices);
    notices->Begin();
    while (!notices->Begun()) house->Settle();
  }
  void Hears(const char* name, int rank, json::object more = {}) {
    json::object act{{"name", name},
                     {"rank", rank},
                     {"mail", json::array{json::string(std::string(name) + "@cave.example")}},
                     {"quiet", nullptr}};
    for (auto& [key, value] : more) act[key] = value;
    house->Do("hearing", act);
  }
  void Gas(double ppm, rules::Millis span) {
    const rules::Instant end = house->Now() + span;
    while (house->Now() < end) {
      house->StepTo(house->Now() + 1min);
      house->Keep({house->Reading(1, ppm)});
      house->Settle();
    }
  }
  Texts To() const {
    Texts to;
    for (const Parcel& parcel : post.sent) to.push_back(parcel.to);
    return to;
  }
  // Among all that went out: the rounds of the day.
  std::size_t Lists() const {
    return static_cast<std::size_t>(std::ranges::count_if(post.sent, [](const Parcel& parcel) {
      return parcel.message.find("X-Rindwatch: round") != std::string::npos;
    }));
  }
  // The network of the house goes, or is back.
  void Net(bool up) {
    post.ready = up;
    post.answer = up ? Outcome{Outcome::Kind::kSent, "took it"} : Outcome{Outcome::Kind::kNotNow, "no way there"};
  }
  // Two fresh wheels in the fridge, that are turned in the morning and again in the evening.
  void FreshWheels() { house->Do("enter", PressedWheels(2, InCave(1), 1)); }
  // They came before the hour of any list of this day.
  void WheelsOfDawn() {
    FreshWheels();
    GoTo(0h);
  }
  void Turns() { house->Do("care", Care({1, 2}, {"turn"})); }
  void GoTo(rules::Millis after) {
    house->StepTo(kThursday + after);
    house->Settle();
  }
  // "evening sent", oldest first.
  Texts ListRows() {
    house->Context().notices = notices.get();
    const json::object page = house->See("/api/notices");
    Texts rows;
    for (const json::value& value : page.at("log").as_array()) {
      const json::object& row = value.as_object();
      const std::string kind(row.at("kind").as_string());
      if (kind == "morning" || kind == "evening") rows.push_back(kind + " " + std::string(row.at("state").as_string()));
    }
    std::ranges::reverse(rows);
    return rows;
  }
  std::string RoundText() {
    house->Context().notices = notices.get();
    return house->Get("/api/round/text").body;
  }
  // Nothing waits for a hand any more.
  void TakesAll() {
    for (const rules::Alarm& alarm : house->TheWatch().Engine().Alarms()) house->Do("take", {{"alarm", alarm.id}});
  }
  std::string TheAlarm() { return house->TheWatch().Engine().Alarms().front().id; }
};

}  // namespace rindwatch::testing
