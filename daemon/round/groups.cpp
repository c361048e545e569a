#include "daemon/round/groups.hpp"

#include <algorithm>
#include <cctype>
#include <tuple>

#include "daemon/book/newest.hpp"

namespace rindwatch {

using rules::CaveId;
using rules::FaultKind;
using rules::Instant;
using rules::RoundPlace;

namespace {

// The newest by `at` that no undo took away; null if there is none.
template <typename T>
const Since<T>* NewestAt(const Book& book, const std::vector<Since<T>>& values, rules::WheelId wheel, Instant at) {
  const Since<T>* newest = nullptr;
  for (const Since<T>& value : values) {
    if (value.from <= at && (!newest || newest->from <= value.from) && !book.IsUndone(value.act, wheel))
      newest = &value;
  }
  return newest;
}

// The gravest that was seen and not yet found gone.
std::optional<FaultKind> MarkAt(const Book& book, const WheelRow& wheel, Instant at) {
  constexpr FaultKind kGravestFirst[] = {FaultKind::kMiteDust, FaultKind::kBlueSpot, FaultKind::kSlime,
                                         FaultKind::kBulge,    FaultKind::kSoft,     FaultKind::kCrack,
                                         FaultKind::kSmell,    FaultKind::kSticks,   FaultKind::kSomethingElse};
  std::vector<FaultKind> seen;
  for (const auto* mark : book.MarksOf(wheel)) {
    const auto kind = mark->from <= at && mark->value ? rules::FaultKindFrom(mark->value->what) : std::nullopt;
    if (kind) seen.push_back(*kind);
  }
  const auto* gravest = std::ranges::find_first_of(kGravestFirst, seen);
  return gravest == std::end(kGravestFirst) ? std::nullopt : std::optional(*gravest);
}

// "A10" after "A9".
bool NaturallyBefore(const std::string& a, const std::string& b) {
  const auto is_digit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      std::size_t to_i = i, to_j = j;
      while (to_i < a.size() && is_digit(a[to_i])) ++to_i;
      while (to_j < b.size() && is_digit(b[to_j])) ++to_j;
      const std::string_view x = std::string_view(a).substr(i, to_i - i), y = std::string_view(b).substr(j, to_j - j);
      // Longer means larger, since nobody writes board A007.
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
      i = to_i;
      j = to_j;
    } else {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
    }
  }
  return a.size() - i < b.size() - j;
}

// A board that its keeper named as the upper one.
bool IsHigh(const std::string& shelf) {
  std::string lower(shelf.size(), ' ');
  std::ranges::transform(shelf, lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return lower.find("top") != std::string::npos || lower.find("upper") != std::string::npos;
}

// Where caves and boards stand on the way.
class Ways {
 public:
  explicit Ways(const Book& book) {
    int order = 0;
    for (const CaveRow* cave : book.Caves()) {
      Way& way = ways_[cave->id];
      way.order = ++order;
      way.given = &cave->shelves_now;
      const auto outer = cave->inside ? ways_.find(*cave->inside) : ways_.end();
      way.room = outer == ways_.end() ? order : outer->second.room;
    }
    nowhere_.order = nowhere_.room = order + 1;
  }
  void See(CaveId cave, const std::string& shelf) {
    if (const auto found = ways_.find(cave); found != ways_.end()) found->second.seen.push_back(shelf);
  }
  // The boards in walking order, once all are seen: first as the keeper gave them, then by name.
  void Settle() {
    for (auto& [id, way] : ways_) {
      std::ranges::sort(way.seen, NaturallyBefore);
      way.seen.erase(std::unique(way.seen.begin(), way.seen.end()), way.seen.end());
    }
  }
  RoundPlace PlaceOf(CaveId cave, const std::string& shelf) const {
    const auto found = ways_.find(cave);
    const Way& way = found == ways_.end() ? nowhere_ : found->second;
    RoundPlace place;
    place.cave = found == ways_.end() ? 0 : cave;
    place.cave_order = way.order;
    place.room = way.room;
    place.shelf = shelf;
    place.shelf_order = way.OrderOf(shelf);
    place.high = IsHigh(shelf);
    return place;
  }

 private:
  struct Way {
    int order = 0, room = 0;
    const std::vector<std::string>* given = nullptr;
    std::vector<std::string> seen;

    int OrderOf(const std::string& shelf) const {
      const std::size_t count = given ? given->size() : 0;
      if (given) {
        const auto at = std::ranges::find(*given, shelf);
        if (at != given->end()) return static_cast<int>(at - given->begin());
      }
      const auto at = std::ranges::lower_bound(seen, shelf, NaturallyBefore);
      return static_cast<int>(count) + static_cast<int>(at - seen.begin());
    }
  };
  std::map<CaveId, Way> ways_;
  Way nowhere_;
};

// What must be equal for wheels to lie together.
struct Together {
  const rules::WheelHistory* history;
  CaveId cave;
  std::string shelf;
  LotId lot;
  std::optional<FaultKind> mark;
  bool held;
  auto operator<=>(const Together&) const = default;
};

using ByTogether = std::map<Together, std::vector<rules::RoundWheel>>;

bool IsThere(const Book& book, const WheelRow& wheel, Instant at) {
  return wheel.History().entered <= at && !NewestAt(book, wheel.gone, wheel.id, at) && !wheel.History().plans.empty();
}

ByTogether WheelsAt(const Book& book, Instant at) {
  ByTogether lying;
  for (rules::WheelId id = 1; id < book.NextWheel(); ++id) {
    const WheelRow* wheel = book.Wheel(id);  // gone ones too
    if (!wheel || !IsThere(book, *wheel, at)) continue;
    const auto* place = NewestAt(book, wheel->places, wheel->id, at);
    const auto* hold = NewestAt(book, wheel->holds, wheel->id, at);
    const auto* cut = NewestAt(book, wheel->cuts, wheel->id, at);
    const CaveId cave = place ? place->value.cave.value_or(0) : 0;
    Together key{&wheel->History(), book.Cave(cave) ? cave : 0, place ? place->value.shelf : std::string{},
                 wheel->lot,        MarkAt(book, *wheel, at),   hold && hold->value.held};
    lying[std::move(key)].push_back(
        {wheel->id, book.NumberOf(*wheel), book.WeightOf(*wheel), cut && cut->value.left < 1});
  }
  return lying;
}

}  // namespace

WheelsLying GatherAt(const Book& book, Instant at) {
  WheelsLying gathering;
  ByTogether lying = WheelsAt(book, at);
  Ways ways(book);
  for (const auto& [key, wheels] : lying) ways.See(key.cave, key.shelf);
  ways.Settle();
  for (auto& [key, wheels] : lying) {
    auto calendar = gathering.calendars.find(key.cave);
    if (calendar == gathering.calendars.end()) {
      const auto cave = key.cave == 0 ? std::nullopt : std::optional(key.cave);
      calendar = gathering.calendars.emplace(key.cave, book.CalendarOf(cave)).first;
    }
    WheelGroup& group = gathering.groups.emplace_back();
    group.history = key.history;
    group.calendar = &calendar->second;
    group.group.place = ways.PlaceOf(key.cave, key.shelf);
    group.group.lot = key.lot;
    group.group.mark = key.mark;
    group.group.held = key.held;
    group.group.wheels = std::move(wheels);
  }
  return gathering;
}

void ScheduleAll(WheelsLying& gathering, Instant asked) {
  std::map<std::pair<const rules::WheelHistory*, const rules::CareCalendar*>, std::shared_ptr<const rules::Schedule>>
      made;
  for (WheelGroup& group : gathering.groups) {
    auto& schedule = made[{group.history, group.calendar}];
    if (!schedule) {
      schedule = std::make_shared<const rules::Schedule>(rules::ScheduleAt(*group.history, *group.calendar, asked));
    }
    group.group.schedule = schedule;
  }
  // A wheel that no plan held yet has nothing to ask.
  std::erase_if(gathering.groups, [](const WheelGroup& group) { return !group.group.schedule->standing.plan; });
}

}  // namespace rindwatch
