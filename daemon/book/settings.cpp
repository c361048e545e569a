// The house's settings as they stand now.
#include <algorithm>

#include "daemon/book/book.hpp"
#include "daemon/book/newest.hpp"

namespace rindwatch {

using rules::CaveId;
using rules::Date;

std::vector<std::string> Book::Keepers() const {
  std::vector<std::string> keepers;
  for (const auto* said : NotUndone(*this, settings_.keepers, std::nullopt)) {
    std::erase(keepers, said->value.name);
    if (!said->value.leaves) keepers.push_back(said->value.name);
  }
  return keepers;
}

bool Book::IsByRoom() const {
  const auto* order = NewestOf(*this, settings_.orders, std::nullopt);
  return order != nullptr && order->value.by_room;
}

std::vector<const Since<Absence>*> Book::Absences() const {
  auto absences = NotUndone(*this, settings_.absences, std::nullopt);
  std::ranges::stable_sort(absences, {}, [](const auto* absence) { return absence->value.from; });
  return absences;
}

// What was taken later is taken from whoever had it.
std::vector<Share> Book::SharesOn(Date day) const {
  std::vector<Share> shares;
  for (const auto* said : NotUndone(*this, settings_.shares, std::nullopt)) {
    const Share& taken = said->value;
    if (taken.day != day) continue;
    std::erase_if(shares, [&](const Share& share) { return share.keeper == taken.keeper; });
    for (Share& share : shares) {
      std::erase_if(share.caves,
                    [&](CaveId cave) { return std::ranges::find(taken.caves, cave) != taken.caves.end(); });
      std::erase_if(share.lines, [&](const std::string& line) { return taken.lines.contains(line); });
    }
    shares.push_back(taken);
  }
  std::erase_if(shares, [](const Share& share) { return share.caves.empty() && share.lines.empty(); });
  return shares;
}

std::string Book::FeedSecret() const {
  const auto* feed = NewestOf(*this, settings_.feeds, std::nullopt);
  return feed && feed->value.open ? feed->value.secret : std::string{};
}

const rules::CareCalendar& Book::CalendarOf(std::optional<CaveId> cave) const {
  const auto known = calendars_.find(cave);
  if (known != calendars_.end()) return known->second;
  rules::CareCalendar calendar{home_, {}, {}};
  if (const auto row = cave ? caves_.find(*cave) : caves_.end(); row != caves_.end()) {
    calendar.care_days = row->second.care_days_now;
  }
  for (const auto* absence : Absences()) {
    const Absence& away = absence->value;
    const bool here = away.caves.empty() || (cave && std::ranges::find(away.caves, *cave) != away.caves.end());
    for (Date day = away.from; here && day < away.back; day += std::chrono::days{1}) calendar.away.push_back(day);
  }
  std::ranges::sort(calendar.away);
  calendar.away.erase(std::ranges::unique(calendar.away).begin(), calendar.away.end());
  return calendars_.emplace(cave, std::move(calendar)).first->second;
}

std::vector<std::string> Book::ShelvesOf(const CaveRow& cave) const {
  std::vector<std::string> shelves;
  std::set<std::string> there;
  for (const WheelRow* wheel : Wheels()) {
    const Place place = PlaceOf(*wheel);
    if (place.cave == cave.id && !place.shelf.empty()) there.insert(place.shelf);
  }
  shelves = cave.shelves_now;
  for (const std::string& shelf : there) {
    if (std::ranges::find(shelves, shelf) == shelves.end()) shelves.push_back(shelf);
  }
  return shelves;
}

// The keeper's order first, then as they came; each is followed by what stands inside it.
std::vector<const CaveRow*> Book::Caves() const {
  std::vector<const CaveRow*> there, all;
  for (const auto& [id, cave] : caves_) {
    if (IsThere(cave)) there.push_back(&cave);
  }
  if (const auto* order = NewestOf(*this, settings_.orders, std::nullopt)) {
    const auto& caves = order->value.caves;
    std::ranges::stable_sort(there, {},
                             [&](const CaveRow* cave) { return std::ranges::find(caves, cave->id) - caves.begin(); });
  }
  const auto add = [&](const auto& self, std::optional<CaveId> inside) -> void {
    for (const CaveRow* cave : there) {
      if (cave->inside != inside) continue;
      all.push_back(cave);
      self(self, cave->id);
    }
  };
  add(add, std::nullopt);
  return all;
}

}  // namespace rindwatch
