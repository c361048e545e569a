#include "daemon/book/fact_sheet.hpp"

#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;

FactSheet::FactSheet(const JournalLine& of) : line(of) {
  body = json::parse(of.body).as_object();
  if (!of.given.empty()) given = json::parse(of.given).as_object();
}

void FactSheet::Add(const char* subject_kind, std::int64_t subject, const char* what, json::value value) {
  facts.push_back({subject_kind, subject, what, line.at, std::move(value)});
}

void FactSheet::AddFrom(rules::Instant from, rules::WheelId wheel, const char* what, json::value value) {
  facts.push_back({"wheel", wheel, what, from, std::move(value)});
}

void FactSheet::ForWheels(const char* what, const json::object& value) {
  for (const rules::WheelId wheel : line.wheels) Add("wheel", wheel, what, value);
}

void FactSheet::Caves() {
  if (!given.contains("caves")) return;
  for (const json::value& cave : given.at("caves").as_array()) {
    const json::object& row = cave.as_object();
    Add("cave", row.at("id").to_number<std::int64_t>(), "cave",
        {{"kind", row.at("kind")}, {"name", row.at("name")}, {"inside", OrNull(row, "inside")}});
    if (!fields::TruthOr(row, "ready_cheese", false)) continue;
    Add("cave", row.at("id").to_number<std::int64_t>(), "watching",
        {{"settings", json::object{}}, {"off", json::array{}}, {"ready_cheese", true}});
  }
}

void FactSheet::Places(const json::object& where) {
  for (std::size_t nth = 0; nth < line.wheels.size(); ++nth) Place(where, nth);
}

void FactSheet::Place(const json::object& where, std::size_t nth) {
  json::object place{{"cave", given.at("cave")}, {"shelf", fields::TextOr(where, "shelf", "")}};
  // Lines from before numbers were kept have none.
  if (const auto first = fields::MaybeWhole(given, "door")) {
    place["number"] = *first + static_cast<std::int64_t>(nth);
  }
  Add("wheel", line.wheels[nth], "place", std::move(place));
}

void FactSheet::Starts() {
  if (!given.contains("begins")) return;
  for (const json::value& item : given.at("begins").as_array()) {
    const json::object& begun = item.as_object();
    for (const rules::WheelId wheel : fields::Wheels(begun, "wheels")) {
      Add("wheel", wheel, "start",
          {{"start", begun.at("start")}, {"day", begun.at("day")}, {"reckoned", begun.at("reckoned")}});
    }
  }
}

json::value OrNull(const json::object& object, const char* name) {
  const json::value* value = object.if_contains(name);
  return value ? *value : json::value(nullptr);
}

}  // namespace rindwatch
