// How the book takes in what is said of the house as a whole, and of the order in which a cave is walked.
#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/newest.hpp"

namespace rindwatch {

namespace json = boost::json;

void Book::TakeHouse(const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  const auto add = [&](auto& list, auto said) { list.push_back({fact.from, line.id, std::move(said)}); };
  if (fact.what == "keeper") {
    add(settings_.keepers, KeeperSaid{fields::Text(value, "name"), fields::Truth(value, "leaves")});
  } else if (fact.what == "order") {
    add(settings_.orders, CaveOrder{fields::Numbers(value, "caves"), fields::Truth(value, "by_room")});
  } else if (fact.what == "away") {
    add(settings_.absences,
        rindwatch::Absence{fields::Day(value, "from"), fields::Day(value, "back"), fields::NumbersOr(value, "caves")});
  } else if (fact.what == "share") {
    const auto lines = fields::Texts(value, "lines");
    add(settings_.shares, Share{fields::Day(value, "day"),
                                fields::Text(value, "by"),
                                fields::Numbers(value, "caves"),
                                {lines.begin(), lines.end()}});
  } else if (fact.what == "feed") {
    add(settings_.feeds, Feed{fields::Truth(value, "open"), fields::TextOr(value, "secret", "")});
  } else if (fact.what == "hearing") {
    add(settings_.hearings, HearingFrom(value));
  }
  calendars_.clear();
}

void Book::TakeWalk(CaveRow& cave, const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  if (fact.what == "shelves") cave.shelf_orders.push_back({fact.from, line.id, fields::Texts(value, "shelves")});
  if (fact.what == "care days") {
    std::set<unsigned> days;
    for (const std::int64_t day : fields::Numbers(value, "days")) days.insert(static_cast<unsigned>(day));
    cave.care_days.push_back({fact.from, line.id, std::move(days)});
  }
}

void Book::SettleWalk(CaveRow& cave) const {
  const auto* shelves = NewestOf(*this, cave.shelf_orders, std::nullopt);
  cave.shelves_now = shelves ? shelves->value : std::vector<std::string>{};
  const auto* days = NewestOf(*this, cave.care_days, std::nullopt);
  cave.care_days_now = days ? days->value : std::set<unsigned>{};
  calendars_.clear();
}

}  // namespace rindwatch
