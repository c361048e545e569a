// The facts of acts on the house as a whole and on how a cave is walked.
#include "daemon/book/fact_sheet.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

namespace json = boost::json;

void OrderFacts(FactSheet& sheet) {
  const json::object& body = sheet.body;
  if (body.contains("cave")) {
    return sheet.Add("cave", fields::Whole(body, "cave"), "shelves", {{"shelves", body.at("shelves")}});
  }
  sheet.Add("house", 0, "order", {{"caves", body.at("caves")}, {"by_room", body.at("by_room")}});
}

void CalendarFacts(FactSheet& sheet) {
  sheet.Add("cave", fields::Whole(sheet.body, "cave"), "care days", {{"days", sheet.body.at("care_days")}});
}

void AwayFacts(FactSheet& sheet) {
  const json::object& body = sheet.body;
  sheet.Add("house", 0, "away",
            {{"from", body.at("from")}, {"back", body.at("back")}, {"caves", OrNull(body, "caves")}});
}

// "I was away" marks the days; "forgot, all fine" is a doing on each of them.
void PastFacts(FactSheet& sheet) {
  if (sheet.given.contains("back")) {
    return sheet.Add("house", 0, "away",
                     {{"from", sheet.body.at("from")}, {"back", sheet.given.at("back")}, {"caves", nullptr}});
  }
  for (const json::value& item : sheet.given.at("forgotten").as_array()) {
    const json::object& forgotten = item.as_object();
    for (const rules::WheelId wheel : fields::Wheels(forgotten, "wheels")) {
      sheet.AddFrom(fields::At(forgotten, "at"), wheel, "care",
                    {{"done", forgotten.at("done")},
                     {"skipped", nullptr},
                     {"reason", ""},
                     {"known", sheet.given.at("known")},
                     {"plan", forgotten.at("plan")},
                     {"version", forgotten.at("version")}});
    }
  }
}

void ShareFacts(FactSheet& sheet) {
  const json::object& body = sheet.body;
  sheet.Add("house", 0, "share",
            {{"day", body.at("day")}, {"by", body.at("by")}, {"caves", body.at("caves")}, {"lines", body.at("lines")}});
}

void KeeperFacts(FactSheet& sheet) {
  sheet.Add("house", 0, "keeper",
            {{"name", sheet.body.at("name")}, {"leaves", fields::TruthOr(sheet.body, "leaves", false)}});
}

void FeedFacts(FactSheet& sheet) {
  sheet.Add("house", 0, "feed", {{"open", sheet.body.at("open")}, {"secret", OrNull(sheet.given, "secret")}});
}

void HearingFacts(FactSheet& sheet) { sheet.Add("house", 0, "hearing", sheet.given.at("hearing")); }

}  // namespace rindwatch
