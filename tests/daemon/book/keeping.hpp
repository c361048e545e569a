// A book that is kept by hand: acts are judged, their facts taken in, no store between. And the invented house of the
// daemon's tests: IH and TR keep pressed and bloomy wheels in a fridge in Vienna's zone.
#pragma once

#include <boost/json.hpp>
#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "daemon/book/desk.hpp"
#include "daemon/book/facts.hpp"
#include "daemon/clock/zones.hpp"

namespace rindwatch::testing {

using namespace std::chrono_literals;
namespace json = boost::json;

inline rules::DayTurn Vienna() {
  static const rules::Zone zone = LoadZone("Europe/Vienna");
  return {zone, 4};
}

// Thursday 12 March 2026, 09:00 in Vienna.
inline const rules::Instant kThursday = rules::FromMillis(1'773'302'400'000);

inline std::string IdOf(std::uint64_t number) {
  char text[33];
  std::snprintf(text, sizeof text, "%032llx", static_cast<unsigned long long>(number));
  return text;
}

// The day so many days before the Thursday, as acts name it.
inline std::string DaysAgo(int days) { return rules::ToText(Vienna().DayOf(kThursday) - std::chrono::days{days}); }

inline json::object NewCave(const char* kind) { return {{"new", {{"kind", kind}}}}; }
inline json::object NewCaveIn(const char* kind, json::value inside) {
  return {{"new", {{"kind", kind}, {"inside", std::move(inside)}}}};
}
inline json::object InCave(std::int64_t cave) { return {{"cave", cave}}; }

inline json::object PressedWheels(int count, json::object where, int made_days_ago = 3) {
  return {{"plan", "pressed-semi-hard"}, {"made", DaysAgo(made_days_ago)}, {"count", count},
          {"where", std::move(where)},   {"starts", json::array{}},        {"last", json::array{}}};
}
inline json::object InTheBox(json::object enter, int days_ago) {
  enter["starts"] = json::array{{{"start", "entered box"}, {"day", DaysAgo(days_ago)}, {"reckoned", false}}};
  return enter;
}
inline json::object AirProbe(const char* name, const char* topic, json::object where) {
  return {{"name", name},
          {"topic", topic},
          {"format", "json"},
          {"channels",
           json::array{{{"kind", "temperature"}, {"pointer", "/t"}}, {{"kind", "humidity"}, {"pointer", "/h"}}}},
          {"where", std::move(where)}};
}
inline json::object Care(std::vector<std::int64_t> wheels, std::vector<const char*> done) {
  json::array kinds;
  for (const char* kind : done) kinds.push_back(json::string(kind));
  return {{"wheels", json::value_from(wheels)}, {"done", std::move(kinds)}, {"skipped", json::array{}}};
}
inline json::array Ids(std::vector<std::int64_t> ids) { return json::value_from(ids).as_array(); }

// The keeper at the desk. `now` is this machine's clock and the phone's.
struct Keeping {
  Book book{Vienna()};
  rules::Instant now = kThursday;
  std::vector<JournalLine> lines;
  std::uint64_t next_id = 1;

  // Fills in what every act says, where `fields` does not.
  json::object Act(const char* kind, json::object fields) {
    json::object act{{"id", IdOf(next_id)}, {"kind", kind}, {"tapped_at", ToMillis(now)}, {"keeper", "IH"}};
    if (!fields.contains("id")) ++next_id;
    for (auto& [name, value] : fields) act[name] = value;
    return act;
  }
  std::variant<Judged, ActFault> Judge(const json::object& act, std::optional<rules::Instant> sent_at = {}) const {
    return JudgeAct(book, json::serialize(act), sent_at, now);
  }
  // Judged and in the book; throws what is wrong with it.
  JournalLine Do(const json::object& act, std::optional<rules::Instant> sent_at = {}) {
    auto judged = Judge(act, sent_at);
    if (const auto* fault = std::get_if<ActFault>(&judged)) throw std::runtime_error(fault->what);
    return Take(std::get<Judged>(std::move(judged)));
  }
  JournalLine Do(const char* kind, json::object fields) { return Do(Act(kind, std::move(fields))); }
  JournalLine Take(Judged judged) {
    JournalLine& line = judged.line;
    line.position = static_cast<std::int64_t>(lines.size()) + 1;
    for (const Fact& fact : judged.facts) book.Take(line, fact);
    book.Remember(line);
    lines.push_back(line);
    return line;
  }
  // What is wrong with an act; an empty `what` if nothing is.
  ActFault Refused(const char* kind, json::object fields) {
    auto judged = Judge(Act(kind, std::move(fields)));
    if (auto* fault = std::get_if<ActFault>(&judged)) return *fault;
    return {};
  }
  const WheelRow& Wheel(std::int64_t id) const { return *book.Wheel(id); }
  // Whether the schedule still counts an act of a wheel.
  bool Counts(const std::string& act, std::int64_t wheel) const { return !book.IsUndone(act, wheel); }
};

}  // namespace rindwatch::testing
