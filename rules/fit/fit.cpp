#include "rules/fit/fit.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace rindwatch::rules {
namespace {

using Asked = std::vector<std::pair<const FitGuest*, const Figure*>>;

Asked WhoAsks(const FitGuest& newcomer, const std::vector<FitGuest>& there, FitChannel channel) {
  Asked asked;
  const auto add = [&](const FitGuest& guest) {
    const auto& band = channel == FitChannel::kTemperature ? guest.bands.temperature : guest.bands.humidity;
    if (band && (channel == FitChannel::kTemperature || guest.same_air)) asked.emplace_back(&guest, &*band);
  };
  add(newcomer);
  for (const FitGuest& guest : there) add(guest);
  return asked;
}

std::optional<Figure> Overlap(const Asked& asked) {
  if (asked.empty()) return std::nullopt;
  Figure shared = *asked.front().second;
  for (const auto& [guest, band] : asked) {
    shared.low = std::max(shared.low, band->low);
    shared.high = std::min(shared.high, band->high);
  }
  shared.source.clear();
  return shared.low <= shared.high ? std::optional(shared) : std::nullopt;
}

// The most delicate wheel has its band; of two alike the younger.
bool IsMoreDelicate(const FitGuest& a, const FitGuest& b) {
  return a.hardiness != b.hardiness ? a.hardiness < b.hardiness : a.age < b.age;
}

bool IsAlike(const FitCost& a, const FitCost& b) {
  return a.family == b.family && a.channel == b.channel && a.side == b.side && a.newcomer == b.newcomer;
}

void AddCost(FitCost cost, std::vector<FitCost>& costs) {
  const auto same = std::ranges::find_if(costs, [&](const FitCost& other) { return IsAlike(other, cost); });
  if (same == costs.end()) return costs.push_back(std::move(cost));
  same->count += cost.count;
  same->by = std::max(same->by, cost.by);
  for (const CaveId cave : cost.caves) {
    if (std::ranges::find(same->caves, cave) == same->caves.end()) same->caves.push_back(cave);
  }
}

// What it costs a guest if the band of another rules; none: both can be kept.
std::optional<FitCost> CostUnder(const Figure& rule, const FitGuest& guest, const Figure& band, FitChannel channel) {
  const double above = rule.low - band.high, below = band.low - rule.high;
  if (above <= 0 && below <= 0) return std::nullopt;
  return FitCost{guest.family, guest.count, channel, above > 0 ? 1 : -1, std::max(above, below)};
}

void AddCosts(const FitGuest& newcomer, const Asked& asked, FitChannel channel, std::vector<FitCost>& costs) {
  const auto add = [&](const auto& ruling, const auto& other) {
    auto cost = CostUnder(*ruling.second, *other.first, *other.second, channel);
    if (!cost) return false;
    cost->newcomer = other.first == &newcomer;
    if (!cost->newcomer) cost->caves = {other.first->cave};
    AddCost(std::move(*cost), costs);
    return true;
  };
  const auto more_delicate = [](const auto& a, const auto& b) { return IsMoreDelicate(*a.first, *b.first); };
  Asked by_delicacy = asked;
  std::ranges::stable_sort(by_delicacy, more_delicate);
  bool costs_any = false;
  for (const auto& other : by_delicacy) costs_any |= add(by_delicacy.front(), other);
  // The most delicate quarrels with nobody: then others do, two by two, each under the more delicate of the two.
  for (std::size_t a = 1; !costs_any && a < by_delicacy.size(); ++a) {
    for (std::size_t b = a + 1; b < by_delicacy.size(); ++b) add(by_delicacy[a], by_delicacy[b]);
  }
}

bool Quarrels(const Fit& fit, FitChannel channel) {
  return std::ranges::any_of(fit.costs, [&](const FitCost& cost) { return cost.channel == channel; });
}

bool IsBlue(const FitGuest& guest) { return guest.rind == RindClass::kBlue; }

void AddAdvice(const FitGuest& newcomer, const std::vector<FitGuest>& there, bool in_box, Fit& fit) {
  const auto shares = [&](bool blue) {
    return std::ranges::any_of(there, [&](const FitGuest& guest) { return guest.same_air && IsBlue(guest) == blue; });
  };
  const bool own_box = Quarrels(fit, FitChannel::kHumidity);
  if (IsBlue(newcomer)) {
    if (!in_box || shares(false)) fit.advice.push_back(FitAdvice::kBlueShutBox);
    fit.advice.push_back(FitAdvice::kBlueLast);
  } else {
    if (own_box) fit.advice.push_back(FitAdvice::kOwnBox);
    if (shares(true)) fit.advice.push_back(FitAdvice::kAwayFromBlue);
  }
  if (Quarrels(fit, FitChannel::kTemperature)) fit.advice.push_back(FitAdvice::kOtherCave);
}

FitGuest OnDay(FitGuest guest, Date day) {
  for (const BandsFrom& coming : guest.coming) {
    if (coming.from <= day) guest.bands = coming.bands;
  }
  return guest;
}

bool Holds(const std::vector<FitCost>& costs, const FitCost& cost) {
  return std::ranges::any_of(costs, [&](const FitCost& other) { return IsAlike(other, cost); });
}

std::set<Date> DaysOfChange(const FitGuest& newcomer, const std::vector<FitGuest>& there) {
  std::set<Date> changes;
  for (const BandsFrom& coming : newcomer.coming) changes.insert(coming.from);
  for (const FitGuest& guest : there) {
    for (const BandsFrom& coming : guest.coming) changes.insert(coming.from);
  }
  return changes;
}

}  // namespace

std::string_view ToText(FitChannel channel) { return channel == FitChannel::kTemperature ? "temperature" : "humidity"; }

std::string_view ToText(FitAdvice advice) {
  switch (advice) {
    case FitAdvice::kOwnBox:
      return "own box";
    case FitAdvice::kOtherCave:
      return "other cave";
    case FitAdvice::kBlueShutBox:
      return "blue shut box";
    case FitAdvice::kBlueLast:
      return "blue last";
    case FitAdvice::kAwayFromBlue:
      return "away from blue";
  }
  return "own box";
}

Fit FitFor(const FitGuest& newcomer, const std::vector<FitGuest>& there, bool in_box) {
  Fit fit;
  for (const FitChannel channel : {FitChannel::kTemperature, FitChannel::kHumidity}) {
    const Asked asked = WhoAsks(newcomer, there, channel);
    const auto shared = Overlap(asked);
    (channel == FitChannel::kTemperature ? fit.shared.temperature : fit.shared.humidity) = shared;
    if (!shared && !asked.empty()) AddCosts(newcomer, asked, channel, fit.costs);
  }
  AddAdvice(newcomer, there, in_box, fit);
  return fit;
}

std::vector<FitLater> FitToCome(const FitGuest& newcomer, const std::vector<FitGuest>& there) {
  std::vector<FitLater> later;
  std::vector<FitCost> known = FitFor(newcomer, there, false).costs;
  for (const Date day : DaysOfChange(newcomer, there)) {
    std::vector<FitGuest> then;
    then.reserve(there.size());
    for (const FitGuest& guest : there) then.push_back(OnDay(guest, day));
    FitGuest nobody = OnDay(newcomer, day);
    const Fit with = FitFor(nobody, then, false);
    nobody.bands = {};  // asks for nothing: what is left are the quarrels of the others
    const Fit without = FitFor(nobody, then, false);
    for (const FitCost& cost : with.costs) {
      if (Holds(known, cost) || Holds(without.costs, cost)) continue;
      known.push_back(cost);
      later.push_back({day, cost});
    }
  }
  return later;
}

}  // namespace rindwatch::rules
