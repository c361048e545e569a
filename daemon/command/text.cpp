#include "daemon/command/text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/api/edges.hpp"
#include "daemon/api/unknown.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/clock/zones.hpp"
#include "daemon/command/concerned_text.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/moments.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

std::string Text(const json::object& object, const char* name) { return fields::TextOr(object, name, ""); }

bool Is(const json::object& channel, const char* what) { return channel.at(what).as_bool(); }

std::string GasReading(const Words& words, const json::object& gas) {
  const auto latest = fields::MaybeNumber(gas, "latest");
  const std::string name = words.Say("gas." + Text(gas, "kind"));
  if (!latest || Text(gas, "grade") == "unknown") return words.Say("caves.gas unknown", {{"gas", name}});
  return words.Say("caves.gas", {{"value", fmt::format("{:.0f}", *latest)}, {"gas", name}});
}

std::string Figures(const Words& words, const json::object& cave) {
  const json::object& temperature = cave.at("temperature").as_object();
  const json::object& humidity = cave.at("humidity").as_object();
  std::string text;
  if (const auto mean = fields::MaybeNumber(temperature, "mean")) text += TemperatureFigure(*mean);
  if (const auto mean = fields::MaybeNumber(humidity, "mean")) {
    // Where nothing is judged the state says so for all of it.
    const bool apart = !Is(humidity, "judged") && Text(cave, "state") != rules::ToText(rules::CaveState::kNotWatched);
    const std::string figure = HumidityFigure(*mean);
    text += (text.empty() ? ""
             : apart      ? "; "
                          : ", ") +
            (apart ? words.Say("figure.not judged", {{"figure", figure}}) : figure);
  }
  if (const json::value* gases = cave.if_contains("gas")) {
    for (const json::value& gas : gases->as_array())
      text += (text.empty() ? "" : "; ") + GasReading(words, gas.as_object());
  }
  return text;
}

// "its probes contradict each other: 12.0 to 15.0 °C", "… 71 to 90 %"; empty: they do not.
std::string OddsText(const Words& words, const json::object& channel, bool humid) {
  const json::value* odds = channel.if_contains("odds");
  if (!odds) return {};
  const double low = odds->at("low").to_number<double>(), high = odds->at("high").to_number<double>();
  return words.Say("state.odds") + ": " + OddsWords(low, high, humid);
}

// "since 09:40: probe Air silent"; empty: something is known of it, or nothing says why not.
std::string WhyUnknown(const Words& words, const json::object& cave) {
  if (Text(cave, "state") != rules::ToText(rules::CaveState::kUnknown)) return {};
  for (const char* channel : {"temperature", "humidity"}) {
    if (std::string why = Text(cave.at(channel).as_object(), "unknown_why"); !why.empty()) return why;
    if (std::string odds = OddsText(words, cave.at(channel).as_object(), channel == std::string_view("humidity"));
        !odds.empty())
      return odds;
  }
  return {};
}

// In band by nothing but what it borrows from around it is no watch: the keeper's eye is asked for.
std::string StateOf(const json::object& cave) {
  const json::object& temperature = cave.at("temperature").as_object();
  const bool own =
      Is(cave.at("humidity").as_object(), "watched") || (Is(temperature, "watched") && !Is(temperature, "borrowed"));
  const std::string not_watched(rules::ToText(rules::CaveState::kNotWatched));
  std::string state = Text(cave, "state");
  const bool eye = !own && state == rules::ToText(rules::CaveState::kInBand);
  if (!eye && state != not_watched) return state;
  // A probe hangs there, and nothing that lies there asks for a band; or only its humidity is nobody's.
  if (own) return "only measured";
  return Is(temperature, "watched") || Is(temperature, "borrowed") ? "humidity not watched" : not_watched;
}

// Of a place that is back in its band an alarm of its air may still stand.
bool IsBack(const json::object& cave, const json::object& head) {
  if (StateOf(cave) != rules::ToText(rules::CaveState::kInBand)) return false;
  return std::ranges::any_of(head.at("alarms").as_array(), [&](const json::value& item) {
    const json::object& alarm = item.as_object();
    const auto kind = rules::AlarmKindFrom(Text(alarm, "kind"));
    const bool back = alarm.contains("inside") || alarm.contains("ends_at");
    return alarm.at("cave") == cave.at("id") && !alarm.contains("over") && kind && rules::IsOfBand(*kind) && back;
  });
}

std::string CavesText(const Words& words, const json::object& caves) {
  const auto state_of = [&](const json::object& cave) {
    const bool back = IsBack(cave, caves.at("head").as_object());
    return words.Say("state." + (back ? std::string("back in band") : StateOf(cave)));
  };
  std::size_t width = 15;
  for (const json::value& item : caves.at("caves").as_array())
    width = std::max(width, state_of(item.as_object()).size());
  std::string text;
  for (const json::value& item : caves.at("caves").as_array()) {
    const json::object& cave = item.as_object();
    const std::string why = WhyUnknown(words, cave), figures = Figures(words, cave);
    const std::string_view between = why.empty() || figures.empty() ? "" : "; ";
    text += fmt::format("{:<9} {:<{}} {}{}{}\n", Text(cave, "name"), state_of(cave), width, why, between, figures);
  }
  return text;
}

// As far as its words go; none: of a kind that this program does not know.
std::optional<rules::Alarm> AlarmOf(const json::object& told) {
  const auto kind = rules::AlarmKindFrom(Text(told, "kind"));
  if (!kind) return std::nullopt;
  rules::Alarm alarm;
  alarm.kind = *kind;
  alarm.why = rules::WhyFrom(Text(told, "why")).value_or(alarm.why);
  alarm.value = fields::MaybeNumber(told, "value").value_or(alarm.value);
  alarm.extreme = fields::MaybeNumber(told, "extreme").value_or(alarm.extreme);
  alarm.before = fields::MaybeNumber(told, "before");
  alarm.warmest = fields::MaybeNumber(told, "warmest");
  alarm.over = fields::MaybeAt(told, "over");
  alarm.ending = rules::EndingFrom(Text(told, "ending")).value_or(alarm.ending);
  if (const json::value* band = told.if_contains("band")) {
    alarm.band = rules::Figure{band->at("low").to_number<double>(), band->at("high").to_number<double>(), {}};
  }
  return alarm;
}

// How an alarm is called, as everywhere else.
std::string WordOf(const Words& words, const json::object& told) {
  const auto alarm = AlarmOf(told);
  return alarm ? AlarmWord(words, *alarm) : Text(told, "kind");
}

// "22:55 to 01:55": of several that are called alike it tells which is which.
std::string SpanText(const Words& words, const json::object& alarm, const json::object& head) {
  const rules::Zone zone = LoadZone(Text(head, "zone"));
  const auto local = [&](const json::value& at) {
    return zone.ToLocal(rules::FromMillis(at.to_number<std::int64_t>()));
  };
  const json::value* until = alarm.if_contains("back_since");
  const json::value* since =
      alarm.contains("told_since") ? alarm.if_contains("told_since") : alarm.if_contains("since");
  return SpanWords(words, local(*since), local(until ? *until : alarm.at("over")), local(head.at("now")));
}

// ", 16200 ppm"; empty: it is of no gas, or nobody knows.
std::string GasText(const Words& words, const json::object& told) {
  const auto kind = rules::AlarmKindFrom(Text(told, "kind"));
  const auto value = fields::MaybeNumber(told, "value");
  if (!kind || !rules::IsGas(*kind) || !value) return {};
  return ", " + words.Say("figure.ppm", {{"value", fmt::format("{:.0f}", *value)}});
}

// ", 22:55 to 01:55, over, not yet seen"; of what is only judged no more ", not judged since 01:55".
std::string EndText(const Words& words, const json::object& told, const json::object& head) {
  const auto alarm = AlarmOf(told);
  if (!alarm || !alarm->Unjudged()) return ", " + SpanText(words, told, head) + ", " + words.Say("alarm.over not seen");
  const rules::Zone zone = LoadZone(Text(head, "zone"));
  const auto at = zone.ToLocal(rules::FromMillis(told.at("over").to_number<std::int64_t>()));
  return ", " + words.Say("alarm.unjudged", {{"time", TimeWords(at)}});
}

bool IsLoud(const json::object& told) {
  const auto severity = rules::SeverityFrom(Text(told, "severity"));
  return !told.contains("over") && severity && *severity >= rules::Severity::kAct;
}

// "Wed 12:40", "12:40" of today.
std::string MomentText(const Words& words, const json::value& at, const json::object& head) {
  const rules::Zone zone = LoadZone(Text(head, "zone"));
  const auto local = [&](const json::value& of) {
    return zone.ToLocal(rules::FromMillis(of.to_number<std::int64_t>()));
  };
  return MomentWords(words, local(at), local(head.at("now")));
}

// Of a probe that spoke last when nobody watched any more: when both was. Empty: of any other.
std::string LastWordText(const Words& words, const json::object& told, const json::object& head) {
  if (!told.contains("told_since")) return {};
  const json::object& first = told.at("unwatched_first").as_object();
  return BegunUnwatchedWords(words, MomentText(words, told.at("since"), head),
                             MomentText(words, first.at("from"), head), MomentText(words, first.at("to"), head));
}

// "Fridge not watched from 09:40 to 12:40. Air 12.4 °C before.": past, whether its air was heard since or not. Empty:
// another kind, or its end is not told.
std::string GapText(const Words& words, const json::object& told, const json::object& head) {
  const auto alarm = AlarmOf(told);
  const json::value* until = told.contains("back_since") ? told.if_contains("back_since") : told.if_contains("over");
  if (!alarm || alarm->kind != rules::AlarmKind::kUnwatched || !until) return {};
  std::string text = words.Say("notice.unwatched", {{"cave", Text(told, "cave_name")},
                                                    {"from", MomentText(words, told.at("since"), head)},
                                                    {"to", MomentText(words, *until, head)}});
  for (const std::string& more : {EdgesWords(words, *alarm), WhyWords(words, *alarm)})
    if (!more.empty()) text += " " + more;
  return text;
}

// "back in the band since 18:31, not yet over: it ends below 3.5 °C"; empty: it is not back, or over.
std::string BackText(const Words& words, const json::object& told, const json::object& head) {
  const auto alarm = AlarmOf(told);
  const auto ends_at = fields::MaybeNumber(told, "ends_at");
  if (!alarm || alarm->over || (!ends_at && !told.contains("inside"))) return {};
  std::string since;
  if (const json::value* at = told.if_contains("inside_since"))
    since = " " + words.Say("since", {{"time", MomentText(words, *at, head)}});
  if (!ends_at) return words.Say("alarm.inside", {{"since", since}});
  const bool high = alarm->kind == rules::AlarmKind::kTooWarm || alarm->kind == rules::AlarmKind::kTooDamp;
  return words.Say(high ? "alarm.ends below" : "alarm.ends above",
                   {{"since", since}, {"value", AlarmFigure(words, alarm->kind, *ends_at)}});
}

// Who says what, of probes that contradict each other; empty: of any other.
std::string SaidText(const Words& words, const json::object& told) {
  const auto alarm = AlarmOf(told);
  const json::value* said = told.if_contains("said");
  if (!alarm || !said) return {};
  const bool of_two = alarm->why == rules::Why::kOneProbe || alarm->kind == rules::AlarmKind::kProbesDisagree;
  if (!of_two) return {};
  std::vector<std::pair<std::string, std::string>> who;
  for (const json::value& item : said->as_array()) {
    const json::object& one = item.as_object();
    const auto kind = Text(one, "kind") == "humidity" ? rules::AlarmKind::kTooDry : rules::AlarmKind::kTooWarm;
    who.emplace_back(Text(one, "probe"), AlarmFigure(words, kind, one.at("value").to_number<double>()));
  }
  return ProbesWords(words, who);
}

// Of what one probe says and another contradicts that it is so; of a place that fell silent as a whole how it did, and
// how its air was before. Empty: of any other.
std::string WhyText(const Words& words, const json::object& told) {
  const auto alarm = AlarmOf(told);
  const bool dark = alarm && alarm->kind == rules::AlarmKind::kPowerGone;
  if (!alarm || !(dark || alarm->why == rules::Why::kOneProbe)) return {};
  const std::string why = WhyWords(words, *alarm), edges = dark ? EdgesWords(words, *alarm) : std::string{};
  return edges.empty() ? why : why + " " + edges;
}

// Gas that was urgent is so by its figure of now, or where nobody knows; all else as long as it is not back inside.
bool IsUrgent(const json::object& told) {
  const auto kind = rules::AlarmKindFrom(Text(told, "kind"));
  if (!kind || told.contains("over") || Text(told, "severity") != rules::ToText(rules::Severity::kUrgent)) return false;
  const std::string grade = Text(told, "grade");
  if (rules::IsGas(*kind)) return grade == "unknown" || grade == rules::ToText(rules::Severity::kUrgent);
  return !told.contains("inside");
}

bool IsDark(const json::object& told) {
  return !told.contains("over") && Text(told, "kind") == rules::ToText(rules::AlarmKind::kPowerGone);
}

// Of the air of a place, as far as it goes against a band.
bool IsOfAir(const json::object& told) {
  const auto kind = rules::AlarmKindFrom(Text(told, "kind"));
  return !told.contains("over") && kind && rules::IsOfBand(*kind);
}

// Of what nobody knows for want of a probe that speaks and is believed.
bool IsOfProbe(const json::object& told) {
  const auto kind = rules::AlarmKindFrom(Text(told, "kind"));
  return !told.contains("over") && kind && StaysUnknown(*kind);
}

// " since 14:05": how long wheels have been in it, or nobody knows, is what they go by. Empty: of any other.
std::string SinceText(const Words& words, const json::object& told, const json::object& head) {
  if (!IsDark(told) && !IsOfAir(told) && !IsOfProbe(told)) return {};
  const json::value* since = told.contains("told_since") ? told.if_contains("told_since") : told.if_contains("since");
  return " " + words.Say("since", {{"time", MomentText(words, *since, head)}});
}

// ", 17.0 °C, keep 10.5 to 14.5"; of air that is back in it without the band, which stands in a line of its own. Empty:
// it is not of the air, or nobody knows.
std::string AirText(const Words& words, const json::object& told) {
  const auto alarm = AlarmOf(told);
  const auto value = fields::MaybeNumber(told, "value");
  if (!alarm || !IsOfAir(told) || !value) return {};
  if (!alarm->band || told.contains("ends_at") || told.contains("inside"))
    return ", " + AlarmFigure(words, alarm->kind, *value);
  std::string band = BandFigure(words, *alarm->band);
  if (const std::string who = Text(told, "band_for"); !who.empty())
    band = words.Say("morning.band for", {{"band", band}, {"wheels", who}});
  return ", " + FigureAgainst(words, alarm->kind, *value, *alarm->band) + ", " +
         words.Say("alarm.keep", {{"band", band}});
}

// "Urgent: Fridge carbon dioxide high, 16200 ppm"
std::string TitleText(const Words& words, const json::object& told, const json::object& head) {
  std::string text = Text(told, "cave_name") + " " + WordOf(words, told);
  text += told.contains("over") ? EndText(words, told, head)
                                : GasText(words, told) + SinceText(words, told, head) + AirText(words, told);
  return IsUrgent(told) ? words.Say("notice.urgent", {{"alarm", text}}) : text;
}

rules::LocalTime NowOf(const json::object& head) {
  return LoadZone(Text(head, "zone")).ToLocal(rules::FromMillis(head.at("now").to_number<std::int64_t>()));
}

std::string AlarmsText(const Words& words, const json::object& head) {
  std::string text;
  for (const json::value& item : head.at("alarms").as_array()) {
    const json::object& alarm = item.as_object();
    const bool over = alarm.contains("over");
    const std::string gap = GapText(words, alarm, head);
    text += fmt::format("{} {}\n", IsLoud(alarm) ? "!!" : "  ", gap.empty() ? TitleText(words, alarm, head) : gap);
    int number = 0;
    if (over) continue;
    for (const std::string& how : {LastWordText(words, alarm, head), BackText(words, alarm, head),
                                   WhyText(words, alarm), SaidText(words, alarm)})
      if (!how.empty()) text += "   " + how + "\n";
    if (IsDark(alarm) || IsOfAir(alarm))
      for (const std::string& line : ConcernedText(words, alarm, NowOf(head))) text += "   " + line + "\n";
    if (const json::value* warnings = alarm.if_contains("warnings")) {
      for (const json::value& warning : warnings->as_array())
        text += fmt::format("   {}\n", std::string_view(warning.as_string()));
    }
    for (const json::value& thing : alarm.at("first").as_array()) {
      text += fmt::format("   {}  {}\n", ++number, std::string_view(thing.as_string()));
    }
  }
  return text;
}

std::string Opening(const Words& words, const json::object& head) {
  std::string text = Text(head, "sentence") + "\n";
  if (head.at("trial").as_bool()) text += words.Say("told.trial.plain") + ".\n";
  for (const json::value& trouble : head.at("troubles").as_array()) {
    const std::string more = Text(trouble.as_object(), "more");
    text += Text(trouble.as_object(), "text") + (more.empty() ? "" : " " + more) + "\n";
  }
  return text;
}

}  // namespace

std::string NowText(const Words& words, const json::object& caves) {
  const json::object& head = caves.at("head").as_object();
  std::string text = Opening(words, head);
  if (const std::string alarms = AlarmsText(words, head); !alarms.empty()) text += "\n" + alarms;
  if (const std::string standing = CavesText(words, caves); !standing.empty()) text += "\n" + standing;
  return text;
}

}  // namespace rindwatch
