#include "daemon/api/edges.hpp"

#include "daemon/api/beside.hpp"
#include "daemon/words/figures.hpp"

namespace rindwatch {
namespace {

constexpr double kWarmed = 1;  // K
// As long as what others say is of that time.
constexpr rules::Millis kNews = std::chrono::minutes{30};

bool IsOfSilence(rules::AlarmKind kind) {
  return kind == rules::AlarmKind::kPowerGone || kind == rules::AlarmKind::kProbeSilent;
}

}  // namespace

std::optional<double> AirAfter(const rules::Alarm& alarm) {
  using enum rules::Why;
  const bool unwatched = alarm.kind == rules::AlarmKind::kUnwatched;
  if (!alarm.before || !alarm.over || (!unwatched && !IsOfSilence(alarm.kind))) return std::nullopt;
  const bool known = alarm.warmest || alarm.why == kOnlyTheWatch || alarm.why == kWarmedMeanwhile;
  if (!known) return std::nullopt;
  // Of a time in which nothing spoke the air of its end is the furthest of it.
  return unwatched ? alarm.value : alarm.extreme;
}

std::string EdgesWords(const Words& words, const rules::Alarm& alarm) {
  const bool unheard = alarm.kind == rules::AlarmKind::kPowerGone || alarm.kind == rules::AlarmKind::kUnwatched;
  if (alarm.before && !alarm.over && unheard)
    return words.Say("alarm.edge", {{"before", TemperatureFigure(*alarm.before)}});
  const auto after = AirAfter(alarm);
  if (!after) return {};
  const std::string air =
      words.Say("alarm.edges", {{"before", TemperatureFigure(*alarm.before)}, {"after", TemperatureFigure(*after)}});
  return alarm.warmest ? air + " " + words.Say("alarm.warmest", {{"value", TemperatureFigure(*alarm.warmest)}}) : air;
}

std::string EdgesNews(const Words& words, const rules::Alarm& alarm) {
  const auto after = AirAfter(alarm);
  if (!after || alarm.why != rules::Why::kWarmedMeanwhile) return {};
  return words.Say(*after > *alarm.before ? "gap.warmed" : "gap.cooled", {{"after", TemperatureFigure(*after)}});
}

std::string EdgesSay(const ApiContext& context, const rules::Alarm& alarm) {
  if (!IsOfSilence(alarm.kind) || !alarm.before || !alarm.warmest) return {};
  // What one probe says proves nothing where another one beside it says otherwise.
  if (const auto after = AirAfter(alarm); after && context.now() - *alarm.over < kNews)
    if (std::string otherwise = OtherwiseBeside(context, alarm, *after); !otherwise.empty()) return otherwise;
  // Whatever is asked there today.
  const auto band = alarm.band ? alarm.band : context.watch.View(alarm.cave).temperature.band;
  // Of a time in which nothing spoke the air of its end is the furthest of it.
  if (alarm.extreme - *alarm.before >= kWarmed) {
    // A cycle of the plant, a door or a round do as much inside the band.
    const bool kept = band && alarm.extreme <= band->high;
    const bool dark = alarm.kind == rules::AlarmKind::kPowerGone;
    return context.words.Say(kept ? "edges.warmed" : dark ? "edges.stood" : "edges.left");
  }
  if (band && (*alarm.before < band->low || *alarm.before > band->high)) return {};
  return context.words.Say("edges.ran");
}

}  // namespace rindwatch
