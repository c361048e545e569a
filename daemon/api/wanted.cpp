#include "daemon/api/wanted.hpp"

#include <algorithm>
#include <iterator>

#include "rules/care/standing.hpp"

namespace rindwatch {

using rules::Figure;

namespace {

bool IsWithin(const Figure& target, const Figure& band) { return target.low >= band.low && target.high <= band.high; }

// Warmth reaches into what stands inside, humidity stays where it is.
bool IsReached(const Book& book, const CaveRow& cave, rules::ChannelKind kind, std::optional<rules::CaveId> lies) {
  if (kind != rules::ChannelKind::kTemperature) return lies == cave.id;
  // A cave is inside one that came before it, so this ends.
  for (const CaveRow* around = lies ? book.Cave(*lies) : nullptr; around;
       around = around->inside ? book.Cave(*around->inside) : nullptr) {
    if (around->id == cave.id) return true;
  }
  return false;
}

// Of its stage, as far as a band of its own leaves it.
std::optional<Figure> TargetOf(const Book& book, const WheelRow& wheel, const CaveRow& cave, rules::ChannelKind kind,
                               rules::Instant now) {
  const auto standing = rules::StandingAt(wheel.History(), book.CalendarOf(cave.id), now);
  if (!standing.stage) return std::nullopt;
  const bool warmth = kind == rules::ChannelKind::kTemperature;
  const auto& target = warmth ? standing.stage->temperature_target : standing.stage->humidity_target;
  const OwnBand* typed = book.BandOf(wheel);
  const std::optional<Figure> own = !typed ? std::nullopt : warmth ? typed->temperature : typed->humidity;
  if (!target || !own) return target;
  const Figure clipped{std::max(target->low, own->low), std::min(target->high, own->high), target->source};
  return clipped.low <= clipped.high ? std::optional(clipped) : std::nullopt;
}

void Add(std::vector<Wanted::Beyond>& all, const Figure& target, rules::WheelId wheel) {
  const auto same = std::ranges::find_if(all, [&](const Wanted::Beyond& other) {
    return other.target.low == target.low && other.target.high == target.high;
  });
  if (same == all.end())
    all.push_back({target, {wheel}});
  else
    same->wheels.push_back(wheel);
}

}  // namespace

bool HoldsTarget(const rules::ChannelView& channel) {
  return !channel.band || !channel.target || IsWithin(*channel.target, *channel.band);
}

Wanted WantedOf(const Book& book, const CaveRow& cave, const rules::CaveView& view, const rules::ChannelView& channel,
                rules::Instant now) {
  if (!channel.band) return {channel.target, {}};
  // Finished cheese is kept cold, whatever its plan once asked for.
  if (cave.watching_now.ready_cheese && channel.kind == rules::ChannelKind::kTemperature) return {};
  std::vector<Wanted::Beyond> wants;
  for (const WheelRow* wheel : book.Wheels()) {
    if (!IsReached(book, cave, channel.kind, book.PlaceOf(*wheel).cave)) continue;
    if (std::ranges::count(view.does_not_suit, wheel->id) > 0) continue;
    if (const auto target = TargetOf(book, *wheel, cave, channel.kind, now)) Add(wants, *target, wheel->id);
  }
  Wanted wanted;
  if (wants.empty()) return wanted;
  Figure common = wants.front().target;
  for (const Wanted::Beyond& want : wants) {
    common.low = std::max(common.low, want.target.low);
    common.high = std::min(common.high, want.target.high);
  }
  if (common.low <= common.high && IsWithin(common, *channel.band)) {
    wanted.target = common;
    return wanted;
  }
  std::ranges::copy_if(wants, std::back_inserter(wanted.beyond),
                       [&](const Wanted::Beyond& want) { return !IsWithin(want.target, *channel.band); });
  return wanted;
}

}  // namespace rindwatch
