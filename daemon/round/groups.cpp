#include "daemon/round/groups.hpp"

#include <algorithm>
#include <cctype>
#include <tuple>

#include "daemon/book/newest.hpp"
#include "daemon/words/natural.hpp"

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

// The gravest that was seen by then and not yet found gone.
std::optional<FaultKind> MarkAt(const Book& book, const WheelRow& wheel, Instant at) {
  std::optional<FaultKind> gravest;
  for (const auto* mark : book.MarksOf(wheel)) {
    const auto kind = mark->from <= at && mark->value ? rules::FaultKindFrom(mark->value->what) : std::nullopt;
    if (kind && (!gravest || rules::GravityOf(*kind) > rules::GravityOf(*gravest))) gravest = kind;
  }
  return gravest;
}

// A board that its keeper named as the upper one.
bool IsHigh(const std::string& shelf) {
  std::string lower(shelf.size(), ' ');
  std::ranges::transform(shelf, lower.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return lower.find("top") != std::string::npos || lower.find("upper") != std::string::npos;
}

// What one of them waits for is still asked of the others, and stands for all in one line.
std::vector<std::string> PutOffByAll(const Book& book, const std::vector<rules::RoundWheel>& wheels, rules::Date day) {
  std::vector<std::string> all;
  for (std::size_t n = 0; n < wheels.size() && (n == 0 || !all.empty()); ++n) {
    const WheelRow* wheel = book.Wheel(wheels[n].id);
    const auto own = wheel ? book.PutOffOn(*wheel, day) : std::vector<std::string>{};
    if (n == 0) all = own;
    std::erase_if(all, [&](const std::string& question) { return std::ranges::find(own, question) == own.end(); });
  }
  return all;
}

// Of its life: while it stays the same so does all that follows from the history.
std::uint64_t StampOf(const WheelRow& wheel) { return wheel.life ? wheel.life->stamp : 0; }

}  // namespace

std::optional<WheelLying> LyingNow(const Book& book, const WheelRow& wheel) {
  if (wheel.History().plans.empty() || book.IsGone(wheel)) return std::nullopt;
  const Place place = book.PlaceOf(wheel);
  const Since<Hold>* hold = book.HoldOf(wheel);
  const Since<Cut>* cut = book.CutOf(wheel);
  WheelLying lying;
  lying.where.life = StampOf(wheel);
  lying.where.cave = place.cave && book.Cave(*place.cave) ? *place.cave : 0;
  lying.where.shelf = place.shelf;
  lying.where.lot = wheel.lot;
  if (!wheel.marks.empty()) lying.where.mark = MarkAt(book, wheel, Instant::max());
  lying.where.held = hold != nullptr;
  lying.wheel = {wheel.id, book.NumberOf(wheel), book.WeightOf(wheel), cut != nullptr && cut->value.left < 1};
  return lying;
}

std::optional<WheelLying> LyingAt(const Book& book, const WheelRow& wheel, Instant at) {
  const rules::WheelHistory& history = wheel.History();
  if (history.entered > at || history.plans.empty() || NewestAt(book, wheel.gone, wheel.id, at)) return std::nullopt;
  const auto* place = NewestAt(book, wheel.places, wheel.id, at);
  const auto* hold = NewestAt(book, wheel.holds, wheel.id, at);
  const auto* cut = NewestAt(book, wheel.cuts, wheel.id, at);
  const CaveId cave = place ? place->value.cave.value_or(0) : 0;
  WheelLying lying;
  lying.where.life = StampOf(wheel);
  lying.where.cave = book.Cave(cave) ? cave : 0;
  if (place) lying.where.shelf = place->value.shelf;
  lying.where.lot = wheel.lot;
  lying.where.mark = MarkAt(book, wheel, at);
  lying.where.held = hold != nullptr && hold->value.held;
  lying.wheel = {wheel.id, book.NumberOf(wheel), book.WeightOf(wheel), cut != nullptr && cut->value.left < 1};
  return lying;
}

Ways::Ways(const Book& book) {
  int order = 0;
  for (const CaveRow* cave : book.Caves()) {
    Way& way = ways_[cave->id];
    way.order = ++order;
    way.given = cave->shelves_now;
    way.calendar = book.CalendarOf(cave->id);
    const auto outer = cave->inside ? ways_.find(*cave->inside) : ways_.end();
    way.room = outer == ways_.end() ? order : outer->second.room;
  }
  nowhere_.order = nowhere_.room = order + 1;
  nowhere_.calendar = book.CalendarOf(std::nullopt);
}

const Ways::Way& Ways::WayOf(const Together& where) const {
  const auto found = ways_.find(where.cave);
  return found == ways_.end() ? nowhere_ : found->second;
}

void Ways::See(const Together& where) {
  const auto found = ways_.find(where.cave);
  (found == ways_.end() ? nowhere_ : found->second).seen.push_back(where.shelf);
}

void Ways::Settle() {
  const auto settle = [](Way& way) {
    std::ranges::sort(way.seen, NaturallyBefore);
    way.seen.erase(std::unique(way.seen.begin(), way.seen.end()), way.seen.end());
  };
  for (auto& [id, way] : ways_) settle(way);
  settle(nowhere_);
}

bool Ways::Knows(const Together& where) const {
  if (where.cave != 0 && !ways_.contains(where.cave)) return false;
  return std::ranges::binary_search(WayOf(where).seen, where.shelf, NaturallyBefore);
}

int Ways::Way::OrderOf(const std::string& shelf) const {
  const auto at = std::ranges::find(given, shelf);
  if (at != given.end()) return static_cast<int>(at - given.begin());
  const auto by_name = std::ranges::lower_bound(seen, shelf, NaturallyBefore);
  return static_cast<int>(given.size()) + static_cast<int>(by_name - seen.begin());
}

RoundPlace Ways::PlaceOf(const Together& where) const {
  const Way& way = WayOf(where);
  RoundPlace place;
  place.cave = &way == &nowhere_ ? 0 : where.cave;
  place.cave_order = way.order;
  place.room = way.room;
  place.shelf = where.shelf;
  place.shelf_order = way.OrderOf(where.shelf);
  place.high = IsHigh(where.shelf);
  return place;
}

const rules::CareCalendar& Ways::CalendarOf(const Together& where) const { return WayOf(where).calendar; }

WheelGroup GroupOf(const Book& book, const Ways& ways, const Together& where, std::vector<rules::RoundWheel> wheels,
                   rules::Date day) {
  WheelGroup group;
  group.group.put_off = PutOffByAll(book, wheels, day);
  group.history = &book.Wheel(wheels.front().id)->History();
  group.calendar = &ways.CalendarOf(where);
  group.group.place = ways.PlaceOf(where);
  group.group.lot = where.lot;
  group.group.mark = where.mark;
  group.group.held = where.held;
  group.group.wheels = std::move(wheels);
  return group;
}

WheelsLying GatherAt(const Book& book, Instant at) {
  std::map<Together, std::vector<rules::RoundWheel>> together;
  // Wheels of a lot mostly came together, and lay together.
  auto last = together.end();
  for (rules::WheelId id = 1; id < book.NextWheel(); ++id) {
    const WheelRow* wheel = book.Wheel(id);  // gone ones too
    if (!wheel) continue;
    auto lying = LyingAt(book, *wheel, at);
    if (!lying) continue;
    last = together.try_emplace(last, std::move(lying->where));
    last->second.push_back(lying->wheel);
  }
  WheelsLying all;
  all.ways = std::make_unique<Ways>(book);
  for (const auto& [where, wheels] : together) all.ways->See(where);
  all.ways->Settle();
  const rules::Date day = book.Home().DayOf(at);
  for (auto& [where, wheels] : together) all.groups.push_back(GroupOf(book, *all.ways, where, std::move(wheels), day));
  return all;
}

void ScheduleAll(WheelsLying& lying, Instant asked) {
  std::map<std::pair<const rules::WheelHistory*, const rules::CareCalendar*>, std::shared_ptr<const rules::Schedule>>
      made;
  for (WheelGroup& group : lying.groups) {
    auto& schedule = made[{group.history, group.calendar}];
    if (!schedule) {
      schedule = std::make_shared<const rules::Schedule>(rules::ScheduleAt(*group.history, *group.calendar, asked));
    }
    group.group.schedule = schedule;
  }
  // A wheel that no plan held yet has nothing to ask.
  std::erase_if(lying.groups, [](const WheelGroup& group) { return !group.group.schedule->standing.plan; });
}

}  // namespace rindwatch
