#include "daemon/api/wheel_air.hpp"

#include <algorithm>
#include <set>

#include "daemon/api/json.hpp"
#include "daemon/book/newest.hpp"
#include "rules/ahead/way.hpp"

namespace rindwatch {

using rules::Instant;

namespace {

// What is shorter the alarms tell, and most of it is a door or a defrost.
constexpr rules::Millis kLong = std::chrono::hours{3};

const OwnBand* OwnAt(const Book& book, const WheelRow& wheel, Instant at) {
  return AsOf(book, wheel.bands, wheel.id, at);
}

}  // namespace

std::vector<BandFrom> BandsOf(const Book& book, const WheelRow& wheel, Instant until) {
  const auto calendar = book.CalendarOf(book.PlaceOf(wheel).cave);
  const auto way = rules::WayOf(wheel.History(), calendar, until);
  std::set<Instant> moments;
  for (const rules::WayStage& stage : way) moments.insert(calendar.turn.StartOf(stage.from));
  for (const auto* own : NotUndone(book, wheel.bands, wheel.id)) moments.insert(own->from);
  std::vector<BandFrom> bands;
  for (const Instant at : moments) {
    if (at > until && !bands.empty()) break;
    std::optional<rules::Figure> band;
    for (const rules::WayStage& stage : way) {
      if (calendar.turn.StartOf(stage.from) <= at) band = stage.stage->temperature_band;
    }
    if (const OwnBand* own = OwnAt(book, wheel, at); own && own->temperature) band = own->temperature;
    const bool same =
        !bands.empty() && bands.back().temperature.has_value() == band.has_value() &&
        (!band || (bands.back().temperature->low == band->low && bands.back().temperature->high == band->high));
    if (!same) bands.push_back({at, band});
  }
  return bands;
}

std::optional<rules::Figure> BandAt(const Book& book, const WheelRow& wheel, Instant at) {
  const auto lies = book.PlaceOf(wheel).cave;
  const CaveRow* cave = lies ? book.Cave(*lies) : nullptr;
  if (cave && cave->watching_now.ready_cheese) return std::nullopt;
  std::optional<rules::Figure> band;
  for (const BandFrom& step : BandsOf(book, wheel, at)) {
    if (step.from <= at) band = step.temperature;
  }
  return band;
}

std::optional<Instant> BeyondSince(const BandFrom& band, int side, const std::vector<Bucket>& hours) {
  std::optional<Instant> since;
  for (auto hour = hours.rbegin(); hour != hours.rend(); ++hour) {
    const bool beyond = side > 0 ? hour->mean > band.temperature->high : hour->mean < band.temperature->low;
    if (!beyond) break;
    since = std::max(hour->from, band.from);
    if (hour->from <= band.from) break;
  }
  return since;
}

std::optional<OutOfItsBand> OutsideNow(const ApiContext& context, const WheelRow& wheel,
                                       const std::vector<BandFrom>& bands, const std::vector<Bucket>& hours) {
  const auto lies = context.book().PlaceOf(wheel).cave;
  const CaveRow* cave = lies ? context.book().Cave(*lies) : nullptr;
  if (!cave || cave->watching_now.ready_cheese || wheel.History().gone) return std::nullopt;
  if (bands.empty() || !bands.back().temperature) return std::nullopt;
  const rules::ChannelView air = context.watch.View(cave->id).temperature;
  if (!air.mean || air.state == rules::CaveState::kUnknown) return std::nullopt;
  const rules::Figure& band = *bands.back().temperature;
  const int side = *air.mean > band.high ? 1 : *air.mean < band.low ? -1 : 0;
  if (side == 0) return std::nullopt;
  const auto since = BeyondSince(bands.back(), side, hours);
  if (!since || context.now() - *since < kLong) return std::nullopt;
  return OutOfItsBand{*since, side, band, *air.mean};
}

boost::json::array UnknownAir(const std::vector<Bucket>& hours, Instant until) {
  boost::json::array array;
  if (hours.empty()) return array;
  const HungSpan lay{0, hours.front().from, until};  // whichever channel spoke
  const std::vector<Gap> gaps = GapsIn(SpokenIn(hours, lay, kAirHour, kAirHour), lay.from, lay.to, kAirHour);
  for (const Gap& gap : gaps) array.push_back({{"from", ToMillis(gap.from)}, {"to", ToMillis(gap.to)}});
  return array;
}

}  // namespace rindwatch
