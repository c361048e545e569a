#include "daemon/morning/phrases.hpp"

#include <fmt/format.h>

#include "daemon/api/cave_sentence.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/words/alarm_word.hpp"

namespace rindwatch::morning {

namespace {

std::string WithTrend(const Words& words, const std::string& figure, int trend) {
  return trend == 0 ? figure : figure + " " + words.Say(trend > 0 ? "morning.rising" : "morning.falling");
}

// With what the air is this minute, where the mean that is judged lies far from it.
std::string AirWords(const Words& words, const std::string& mean, int trend, std::optional<double> latest) {
  const std::string figure = WithTrend(words, mean, trend);
  return latest ? Join({figure, words.Say("morning.last reading", {{"value", TemperatureFigure(*latest)}})}, ", ")
                : figure;
}

// What is asked of the air, beside its figure.
const char* BandKey(const Alarm& alarm) {
  const bool high = alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooDamp;
  if (alarm.ends_at) return high ? "morning.ends below" : "morning.ends above";
  if (alarm.inside) return "morning.back within";
  const bool within = alarm.value && *alarm.value >= alarm.band->low && *alarm.value <= alarm.band->high;
  return within && !alarm.was_out ? "morning.still within" : "alarm.keep";
}

// Of what began before the evening the day is said, and of an end that the hour alone does not tell.
std::string UnknownWords(const Words& words, LocalTime from, LocalTime to, Date today) {
  constexpr std::chrono::days kDay{1};
  const bool of_night = from >= LocalTime{today - kDay} + kEvening;
  return words.Say("morning.unknown",
                   {{"from", of_night ? TimeWords(from) : MomentWords(words, from, LocalTime{today})},
                    {"to", to - from < kDay ? TimeWords(to) : MomentWords(words, to, from)}});
}

// What is done where a box grows damp or dry; empty: it has no lid, or is ill otherwise.
std::string LidWords(const Words& words, const Cave& cave) {
  if (!cave.has_lid || cave.of_air || cave.side == 0) return {};
  return words.Say(cave.side > 0 ? "morning.open lid" : "morning.shut lid");
}

// The unit once where both have the same: "1 to 2 h", "15 to 45 min".
std::string RangeWords(const Words& words, std::chrono::minutes low, std::chrono::minutes high) {
  using std::chrono::hours;
  if (low == high) return LastsWords(words, low);
  const auto span = [&](const auto& from, const auto& to) { return words.Say("span", {{"low", from}, {"high", to}}); };
  const auto number = [](auto count) { return std::to_string(count); };
  if (high < hours{1}) return words.Say("minutes", {{"minutes", span(number(low.count()), number(high.count()))}});
  if (low % hours{1} == hours{0} && high % hours{1} == hours{0})
    return words.Say("hours", {{"hours", span(number(low / hours{1}), number(high / hours{1}))}});
  return span(LastsWords(words, low), LastsWords(words, high));
}

// "45 min to 27 h": by such an end nobody goes, and the beginning is what counts.
bool SaysNothing(rules::Millis soonest, rules::Millis latest) {
  return latest > std::chrono::hours{6} && latest > 4 * soonest;
}

}  // namespace

std::string GasFigure(const Words& words, const Alarm& alarm) {
  if (!rules::IsGas(alarm.kind)) return {};
  if (alarm.value) return AlarmFigure(words, alarm.kind, *alarm.value);
  return alarm.last ? words.Say("gas.last", {{"value", AlarmFigure(words, alarm.kind, *alarm.last)}}) : std::string{};
}

std::string WithUrgency(const Words& words, const Alarm& alarm, const std::string& said) {
  return alarm.urgent ? words.Say("notice.urgent", {{"alarm", said}}) : said;
}

std::string MatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest) {
  if (latest && SaysNothing(soonest, *latest)) latest.reset();
  if (soonest >= rules::Matter::kNotWithin) return words.Say("matter.far");
  // A forecast is no railway's: quarters of an hour, and from six hours on whole ones.
  const auto rounded = [](rules::Millis span, bool up) {
    const std::chrono::minutes step = span < std::chrono::hours{6} ? std::chrono::minutes{15} : std::chrono::hours{1};
    const auto whole = rules::Millis{step}.count();
    return step * ((span.count() + (up ? whole - 1 : 0)) / whole);
  };
  const auto low = rounded(soonest, false);
  if (latest && latest->count() == 0) return words.Say("matter.now");
  if (!latest && low.count() == 0) return words.Say("matter.soon or never");
  if (!latest) return words.Say("matter.never", {{"time", LastsWords(words, low)}});
  const auto high = rounded(*latest, true);
  if (low.count() == 0) return words.Say("matter.within", {{"time", LastsWords(words, high)}});
  return words.Say("matter.in", {{"time", RangeWords(words, low, high)}});
}

std::string DarkMatterWords(const Words& words, rules::Millis soonest, std::optional<rules::Millis> latest,
                            LocalTime now) {
  constexpr rules::Millis kTooWide = std::chrono::hours{12};
  if (latest && *latest - soonest > kTooWide) latest.reset();
  if (soonest >= rules::Matter::kNotWithin) return words.Say("matter.far");
  if (latest && latest->count() == 0) return words.Say("matter.now");
  // Quarters of an hour of the wall.
  using Quarters = std::chrono::duration<rules::Millis::rep, std::ratio<900>>;
  const auto moment = [&](auto at) { return MomentWords(words, LocalTime{at.time_since_epoch()}, now); };
  const std::string high = latest ? moment(std::chrono::ceil<Quarters>(now + *latest)) : std::string{};
  if (soonest < std::chrono::minutes{1})
    return latest ? words.Say("matter.dark.by", {{"time", high}}) : words.Say("matter.dark.perhaps");
  const std::string low = moment(std::chrono::floor<Quarters>(now + soonest));
  return latest ? words.Say("matter.dark.between", {{"low", low}, {"high", high}})
                : words.Say("matter.dark.from", {{"time", low}});
}

bool Leads(const Alarm& alarm) { return !alarm.hint && !CanWait(alarm.kind, alarm.why); }

std::string AlarmWords(const Words& words, const Alarm& alarm) {
  if (Asks(alarm.kind, alarm.why)) {
    const std::string asked = words.Say("alarm.asks", {{"cave", alarm.cave}});
    return alarm.value ? asked + " " + words.Say("alarm.asks.low", {{"value", fmt::format("{:.1f}", *alarm.value)}})
                       : asked;
  }
  if (alarm.until) {
    const LocalTime now = alarm.since + alarm.lasts;
    return words.Say(
        "notice.unwatched",
        {{"cave", alarm.cave}, {"from", SinceWords(words, alarm)}, {"to", MomentWords(words, *alarm.until, now)}});
  }
  const char* key = alarm.lasts.count() > 0 ? "morning.alarm" : "morning.alarm.now";
  std::string text = words.Say(key, {{"cave", alarm.cave},
                                     {"what", AlarmWord(words, alarm.kind, alarm.why, alarm.never_left)},
                                     {"time", SinceWords(words, alarm)},
                                     {"lasts", LastsWords(words, alarm.lasts)}});
  std::vector<std::string> figures;
  if (alarm.value) {
    const std::string figure = alarm.band ? FigureAgainst(words, alarm.kind, *alarm.value, *alarm.band)
                                          : AlarmFigure(words, alarm.kind, *alarm.value);
    figures.push_back(AirWords(words, figure, alarm.trend, alarm.latest));
  } else if (!GasFigure(words, alarm).empty()) {
    figures.push_back(GasFigure(words, alarm));
  }
  if (alarm.band && !rules::IsGas(alarm.kind)) {
    std::string band = BandFigure(words, *alarm.band);
    if (!alarm.band_for.empty()) band = words.Say("morning.band for", {{"band", band}, {"wheels", alarm.band_for}});
    const std::string ends_at = alarm.ends_at ? AlarmFigure(words, alarm.kind, *alarm.ends_at) : "";
    const auto now = alarm.since + alarm.lasts;
    const std::string since =
        alarm.inside_since ? " " + words.Say("since", {{"time", MomentWords(words, *alarm.inside_since, now)}}) : "";
    figures.push_back(words.Say(BandKey(alarm), {{"band", band}, {"value", ends_at}, {"since", since}}));
  }
  return figures.empty() ? text : text + " " + Opening(Join(figures, ", ")) + ".";
}

std::string TakenWords(const Words& words, const Alarm& alarm, bool nobody) {
  if (!alarm.taken && alarm.taken_before) {
    const auto time = MomentWords(words, *alarm.taken_before, alarm.since + alarm.lasts);
    if (alarm.taken_by.empty())
      return words.Say(nobody ? "morning.taken before" : "morning.taken once", {{"time", time}});
    return words.Say(nobody ? "morning.taken before by" : "morning.taken once by",
                     {{"name", alarm.taken_by}, {"time", time}});
  }
  if (!alarm.taken) return words.Say("morning.nobody");
  return alarm.taken_by.empty() ? words.Say("morning.taken")
                                : words.Say("morning.taken by", {{"name", alarm.taken_by}});
}

std::string StateWords(const Words& words, const Cave& cave) {
  if (cave.state == rules::CaveState::kNotWatched) {
    using enum Cave::Unwatched;
    if (cave.unwatched == kHumidity) return words.Say("state.humidity not watched");
    if (cave.unwatched == kJudging) return words.Say("state.only measured");
  }
  if (cave.back) return words.Say("state.back in band");
  std::string state = words.Say("state." + std::string(rules::ToText(cave.state)));
  if (cave.state != rules::CaveState::kDrifting) return state;
  return state + " " + SideWord(words, cave.of_air, cave.side);
}

std::string FigureWords(const Words& words, const Cave& cave, Date today) {
  const std::string air =
      cave.temperature ? AirWords(words, TemperatureFigure(*cave.temperature), cave.trend, cave.latest) : std::string{};
  // Where nothing is judged the state says so for all of it.
  const bool apart = !cave.damp_judged && cave.humidity && cave.state != rules::CaveState::kNotWatched;
  const char* const between = apart ? "; " : ", ";
  std::string damp = cave.humidity ? HumidityFigure(*cave.humidity) : std::string{};
  if (apart) damp = words.Say("figure.not judged", {{"figure", damp}});
  std::string text;
  if (cave.state == rules::CaveState::kDrifting) {
    text = cave.of_air ? air : damp;
    if (cave.out_by) text = Join({text, words.Say("morning.out by", {{"time", TimeWords(*cave.out_by)}})}, ", ");
    text = Join({text, LidWords(words, cave)}, ". ");
  } else if (cave.state == rules::CaveState::kOutOfBand) {
    // "Too" is a word of alarms: without one it is out of band, and that is all.
    const char* side = cave.side > 0 ? (cave.of_air ? "warm" : "damp") : (cave.of_air ? "cold" : "dry");
    const std::string how =
        cave.called ? words.Say(std::string("side.too ") + side) : SideWord(words, cave.of_air, cave.side);
    text = Join({how, Join({cave.of_air ? air : damp, cave.of_air ? damp : air}, "; ")}, ": ");
    if (cave.keep) text = Join({text, words.Say("alarm.keep", {{"band", BandFigure(words, *cave.keep)}})}, ", ");
    text = Join({text, LidWords(words, cave)}, ". ");
  } else if (cave.state == rules::CaveState::kNotWatched) {
    // Where nothing lies there is nothing to look at.
    const bool judged = cave.unwatched != Cave::Unwatched::kJudging;
    text = cave.empty ? words.Say("morning.empty") : cave.has_lid ? words.Say("morning.look at lid") : std::string{};
    if (!judged) text = Join({air, damp}, ", ");
  } else if (cave.state == rules::CaveState::kUnknown) {
    text = Join({cave.why_unknown, Join({air, damp}, between)}, "; ");
  } else {
    text = Join({air, damp}, between);
  }
  if (cave.damp_unseen && cave.state != rules::CaveState::kNotWatched)
    text = Join({text, words.Say("state.humidity not watched")}, "; ");
  for (const std::string& gas : cave.gas) text = Join({text, gas}, "; ");
  for (const auto& [from, to] : cave.unknown) text = Join({text, UnknownWords(words, from, to, today)}, "; ");
  return text;
}

}  // namespace rindwatch::morning
