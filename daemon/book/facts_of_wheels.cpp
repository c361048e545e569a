// The facts of acts on wheels.
#include <map>

#include "daemon/book/fact_sheet.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

// "Last turned yesterday": a doing at an earlier instant.
void LastCare(FactSheet& sheet, rules::WheelId wheel, const json::object& last) {
  sheet.AddFrom(rules::FromMillis(fields::Whole(last, "at")), wheel, "care",
                {{"done", json::array{last.at("kind")}},
                 {"skipped", nullptr},
                 {"reason", ""},
                 {"known", sheet.given.at("known")}});
}

// Which version of which plan each wheel followed when the care was done.
void AddVersions(FactSheet& sheet) {
  if (!sheet.given.contains("under")) return;
  std::map<rules::WheelId, const json::object*> followed;
  for (const json::value& item : sheet.given.at("under").as_array()) {
    for (const rules::WheelId wheel : fields::Wheels(item.as_object(), "wheels")) followed[wheel] = &item.as_object();
  }
  for (Fact& fact : sheet.facts) {
    const auto under = followed.find(fact.subject);
    if (under == followed.end()) continue;
    fact.value.as_object()["plan"] = under->second->at("plan");
    fact.value.as_object()["version"] = under->second->at("version");
  }
}

}  // namespace

void CareFacts(FactSheet& sheet) {
  sheet.ForWheels("care", {{"done", OrNull(sheet.body, "done")},
                           {"skipped", OrNull(sheet.body, "skipped")},
                           {"reason", fields::TextOr(sheet.body, "reason", "")},
                           {"known", sheet.given.at("known")}});
  AddVersions(sheet);
  sheet.Starts();
  if (const auto grams = fields::MaybeNumber(sheet.body, "grams")) sheet.ForWheels("weighed", {{"grams", *grams}});
  if (fields::TruthOr(sheet.body, "clears", false)) sheet.ForWheels("mark", {{"what", nullptr}});
}

void EnterFacts(FactSheet& sheet) {
  const json::object &body = sheet.body, &given = sheet.given;
  sheet.Caves();
  if (given.contains("plan_text")) {
    sheet.Add("plan", 0, "text",
              {{"plan", body.at("plan")}, {"version", given.at("version")}, {"text", given.at("plan_text")}});
  }
  const std::int64_t lot = fields::Whole(given, "lot");
  sheet.Add("lot", lot, "lot", {{"name", given.at("lot_name")}, {"plan", body.at("plan")}});
  std::int64_t number = fields::Whole(given, "first_number");
  const json::value grams = OrNull(body, "grams");
  for (std::size_t nth = 0; nth < sheet.line.wheels.size(); ++nth) {
    const rules::WheelId wheel = sheet.line.wheels[nth];
    sheet.Add("wheel", wheel, "wheel", {{"lot", lot}, {"number", number++}, {"grams", grams}});
    sheet.Add("wheel", wheel, "plan", {{"plan", body.at("plan")}, {"version", given.at("version")}});
    sheet.Add("wheel", wheel, "start",
              {{"start", given.at("first_start")}, {"day", body.at("made")}, {"reckoned", false}});
    for (const json::value& start : given.at("starts").as_array()) sheet.Add("wheel", wheel, "start", start);
    sheet.Place(fields::Object(body, "where"), nth);
    for (const json::value& last : given.at("last").as_array()) LastCare(sheet, wheel, last.as_object());
    if (body.contains("rule")) sheet.Add("wheel", wheel, "rule", {{"rule", body.at("rule")}});
  }
}

void HoldFacts(FactSheet& sheet) {
  sheet.ForWheels("hold", {{"held", sheet.body.at("held")}, {"why", fields::TextOr(sheet.body, "why", "")}});
}

void CutFacts(FactSheet& sheet) {
  sheet.ForWheels("cut", {{"left", sheet.body.at("left")}, {"how", sheet.body.at("how")}});
}

void SplitFacts(FactSheet& sheet) {
  const std::int64_t lot = fields::Whole(sheet.given, "lot");
  sheet.Add("lot", lot, "lot", {{"name", sheet.body.at("lot")}, {"plan", sheet.given.at("plan")}, {"split_off", true}});
  sheet.ForWheels("lot", {{"lot", lot}});
}

void FaultFacts(FactSheet& sheet) {
  const json::value& what = sheet.body.at("what");
  for (const json::value& item : sheet.given.at("marks").as_array()) {
    const json::object& mark = item.as_object();
    for (const rules::WheelId wheel : fields::Wheels(mark, "wheels")) {
      sheet.Add("wheel", wheel, "mark", {{"what", what}, {"look_again", OrNull(mark, "look_again")}});
    }
  }
  if (sheet.given.contains("agreed")) {
    for (const json::value& item : sheet.given.at("agreed").as_array()) {
      const json::object& care = item.as_object();
      for (const rules::WheelId wheel : fields::Wheels(care, "wheels")) {
        sheet.Add("wheel", wheel, "agreed",
                  {{"kind", care.at("kind")}, {"day", care.at("day")}, {"stands_for", OrNull(care, "stands_for")}});
      }
    }
  }
  if (!sheet.given.contains("held")) return;
  for (const rules::WheelId wheel : fields::Wheels(sheet.given, "held")) {
    sheet.Add("wheel", wheel, "hold", {{"held", true}, {"why", what}});
  }
}

void BandFacts(FactSheet& sheet) {
  sheet.ForWheels("band",
                  {{"temperature", OrNull(sheet.body, "temperature")}, {"humidity", OrNull(sheet.body, "humidity")}});
}

}  // namespace rindwatch
