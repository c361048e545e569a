#include "daemon/api/band_steps.hpp"

#include <algorithm>
#include <set>

#include "daemon/api/json.hpp"
#include "daemon/book/newest.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CaveId;
using rules::Instant;

namespace {

constexpr std::size_t kMostSteps = 40;

std::optional<CaveId> LayIn(const Book& book, const WheelRow& wheel, Instant at) {
  if (book.IsUndone(wheel.act, wheel.id) || AsOf(book, wheel.gone, wheel.id, at)) return std::nullopt;
  const Place* place = AsOf(book, wheel.places, wheel.id, at);
  return place ? place->cave : std::nullopt;
}

// The cave and what stands in it.
std::set<CaveId> AndWithin(const Book& book, const CaveRow& cave) {
  std::set<CaveId> within{cave.id};
  // A cave is inside one that came before it, so one pass in their order finds all.
  for (const CaveRow* other : book.Caves()) {
    if (other->inside && within.contains(*other->inside)) within.insert(other->id);
  }
  return within;
}

// All that a band hangs on, as it stood: equal ones make the same band.
struct Ground {
  struct Lying {
    const WheelRow* wheel;
    CaveId cave;
    const rules::Stage* stage;
    const OwnBand* own;
    bool operator==(const Lying&) const = default;
  };
  std::vector<Lying> wheels;
  std::vector<const CaveLimits*> limits;      // in the order of the caves
  std::vector<const CaveWatching*> watching;  // likewise
  bool operator==(const Ground&) const = default;
};

Ground GroundAt(const Book& book, const std::set<CaveId>& caves, Instant at) {
  Ground ground;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto cave = LayIn(book, *wheel, at);
    if (!cave || !caves.contains(*cave)) continue;
    const auto standing = rules::StandingAt(wheel->History(), book.CalendarOf(*cave), at);
    ground.wheels.push_back({wheel, *cave, standing.stage, AsOf(book, wheel->bands, wheel->id, at)});
  }
  for (const CaveId id : caves) {
    ground.limits.push_back(AsOf(book, book.Cave(id)->limits, std::nullopt, at));
    ground.watching.push_back(AsOf(book, book.Cave(id)->watching, std::nullopt, at));
  }
  return ground;
}

// The rules' own word for it: a watch that hears of nothing but these wheels and limits.
rules::CaveView ViewOf(const Book& book, const std::set<CaveId>& caves, const Ground& ground, CaveId of, Instant at) {
  rules::EngineState state;
  auto limits = ground.limits.begin();
  auto watching = ground.watching.begin();
  for (const CaveId id : caves) {
    const CaveRow& row = *book.Cave(id);
    const CaveLimits typed = *limits ? **limits : CaveLimits{};
    const CaveWatching judged = *watching ? **watching : CaveWatching{};
    ++limits;
    ++watching;
    const auto inside = row.inside && caves.contains(*row.inside) ? row.inside : std::nullopt;
    rules::Step(state,
                rules::CaveGiven{id, inside, book.Home(), typed.temperature, typed.humidity, judged.own,
                                 judged.out_of_service, judged.ready_cheese},
                at);
  }
  for (const Ground::Lying& lying : ground.wheels) {
    const rules::WheelHistory& all = lying.wheel->History();
    rules::WheelGiven given{lying.wheel->id, lying.cave, {}, book.WeightOf(*lying.wheel), {}, {}};
    if (lying.own) given.own_temperature = lying.own->temperature;
    if (lying.own) given.own_humidity = lying.own->humidity;
    given.history = {all.plans, all.starts, all.branches, {}, all.undos, {}, all.entered, all.gone};
    rules::Step(state, given, at);
  }
  return state.View(of, at);
}

// When it may have changed: at the turn of the day and at each line of the journal that says something of wheels.
std::set<Instant> Moments(const Book& book, Instant from, Instant to) {
  std::set<Instant> moments;
  const auto add = [&](Instant at) {
    if (from < at && at < to && moments.size() < kMostSteps) moments.insert(at);
  };
  for (rules::Date day = book.Home().DayOf(from); day <= book.Home().DayOf(to); day += std::chrono::days{1}) {
    add(book.Home().StartOf(day));
  }
  for (const JournalLine& line : book.Newest()) {
    const bool tells = line.kind != "care" && line.kind != "alarm" && line.kind != "take" && line.kind != "called" &&
                       line.kind != "aside" && line.kind != "started" && line.kind != "stopped" &&
                       line.kind != "leapt" && line.kind != "note";
    if (tells) add(line.at);
  }
  return moments;
}

// By its figures, whoever asks for them.
bool IsSame(const std::optional<rules::Figure>& a, const std::optional<rules::Figure>& b) {
  return a.has_value() == b.has_value() && (!a || (a->low == b->low && a->high == b->high));
}

bool IsSame(const BandStep& a, const BandStep& b) {
  return IsSame(a.temperature, b.temperature) && IsSame(a.humidity, b.humidity);
}

}  // namespace

json::array StepsJson(const std::vector<BandStep>& steps) {
  json::array array;
  for (const BandStep& step : steps) {
    json::object object{{"from", ToMillis(step.from)}};
    SetSpan(object, "temperature", step.temperature);
    SetSpan(object, "humidity", step.humidity);
    array.push_back(std::move(object));
  }
  return array;
}

std::vector<BandStep> BandSteps(const Book& book, const CaveRow& cave, const rules::CaveView* at_end, Instant from,
                                Instant to) {
  const std::set<CaveId> caves = AndWithin(book, cave);
  const Ground last = GroundAt(book, caves, to);
  std::set<Instant> moments = Moments(book, from, to);
  moments.insert(from);
  std::vector<BandStep> steps;
  std::optional<Ground> before;
  for (const Instant at : moments) {
    Ground ground = GroundAt(book, caves, at);
    if (before && ground == *before) continue;
    const bool known = at_end && ground == last;
    const rules::CaveView view = known ? *at_end : ViewOf(book, caves, ground, cave.id, at);
    before = std::move(ground);
    BandStep step{at, view.temperature.band, view.humidity.band};
    if (steps.empty() || !IsSame(steps.back(), step)) steps.push_back(std::move(step));
  }
  return steps;
}

BandMove MoveOfBand(const Book& book, const CaveRow& cave, Instant before, Instant after) {
  const std::set<CaveId> caves = AndWithin(book, cave);
  const Ground was = GroundAt(book, caves, before), is = GroundAt(book, caves, after);
  const auto among = [](const Ground& ground, const WheelRow* wheel) {
    const auto found = std::ranges::find(ground.wheels, wheel, &Ground::Lying::wheel);
    return found == ground.wheels.end() ? nullptr : &*found;
  };
  BandMove move;
  for (const Ground::Lying& lying : is.wheels) {
    const Ground::Lying* earlier = among(was, lying.wheel);
    if (!earlier)
      move.came.push_back({lying.wheel, lying.cave});
    else if (earlier->stage != lying.stage)
      move.staged.push_back({lying.wheel, lying.cave});
    move.typed |= earlier && earlier->own != lying.own;
  }
  for (const Ground::Lying& lying : was.wheels) {
    if (!among(is, lying.wheel)) move.left.push_back({lying.wheel, lying.cave});
  }
  move.typed |= was.limits != is.limits || was.watching != is.watching;
  move.after = ViewOf(book, caves, is, cave.id, after);
  return move;
}

const std::vector<rules::WheelId>& BandMemory::UnsuitedAtTurn(const Book& book, const CaveRow& cave, Instant now) {
  KeptUnsuited& kept = unsuited_[cave.id];
  const rules::Date day = book.Home().DayOf(now);
  if (kept.day != day || kept.version != book.Version()) {
    // A stage that begins on this day is in force from its start on.
    const Instant turn = book.Home().StartOf(day) - rules::Millis{1};
    const std::set<CaveId> caves = AndWithin(book, cave);
    kept = {book.Version(), day, ViewOf(book, caves, GroundAt(book, caves, turn), cave.id, turn).does_not_suit};
  }
  return kept.wheels;
}

const std::vector<BandStep>& BandMemory::UpToNow(const Book& book, const CaveRow& cave, const rules::CaveView& now,
                                                 Instant from, Instant to) {
  constexpr rules::Millis kGood = std::chrono::hours{1};
  Kept& kept = kept_[cave.id];
  const bool fresh = !kept.steps.empty() && kept.version == book.Version() && to >= kept.at && to - kept.at < kGood &&
                     book.Home().DayOf(to) == book.Home().DayOf(kept.at);
  if (!fresh) kept = {book.Version(), to, BandSteps(book, cave, &now, from, to)};
  return kept.steps;
}

}  // namespace rindwatch
