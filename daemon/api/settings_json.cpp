#include "daemon/api/book_views.hpp"
#include "daemon/api/json.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::array CavesJson(const Book& book) {
  json::array caves;
  for (const CaveRow* cave : book.Caves()) {
    caves.push_back({{"id", cave->id},
                     {"name", cave->name},
                     {"care_days", json::value_from(cave->care_days_now)},
                     {"shelves", json::value_from(book.ShelvesOf(*cave))}});
  }
  return caves;
}

// Those to come, and those of the last season: a keeper looks back on them, and strikes out what was wrong.
json::array AwayJson(const Book& book, rules::Date today) {
  constexpr std::chrono::days kSeason{90};
  json::array array;
  for (const auto* absence : book.Absences()) {
    if (absence->value.back + kSeason <= today) continue;
    array.push_back({{"act", absence->act.Text()},
                     {"from", DayJson(absence->value.from)},
                     {"back", DayJson(absence->value.back)},
                     {"caves", json::value_from(absence->value.caves)}});
  }
  return array;
}

}  // namespace

std::string FeedPath(const std::string& secret) { return "/calendar/" + secret + ".ics"; }

json::object SettingsJson(const ApiContext& context) {
  const Book& book = context.book();
  json::object object{{"head", HeadJson(context)},
                      {"keepers", json::value_from(book.Keepers())},
                      {"caves", CavesJson(book)},
                      {"by_room", book.IsByRoom()},
                      {"away", AwayJson(book, book.Home().DayOf(context.now()))}};
  if (const std::string secret = book.FeedSecret(); !secret.empty()) object["feed"] = FeedPath(secret);
  return object;
}

}  // namespace rindwatch
