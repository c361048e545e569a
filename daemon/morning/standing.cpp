#include "daemon/morning/standing.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "daemon/api/band_for.hpp"
#include "daemon/api/cave_news.hpp"
#include "daemon/api/concerned.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/day_mean.hpp"
#include "daemon/api/days_lost.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/first_things.hpp"
#include "daemon/api/freezing.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/unknown.hpp"
#include "daemon/api/views.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/api/wheel_air.hpp"
#include "daemon/api/within.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/morning/past.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/kin_word.hpp"

namespace rindwatch::morning {

namespace json = boost::json;

namespace {

std::string Text(const json::object& object, const char* name) { return fields::TextOr(object, name, ""); }

Cave CaveOf(const ApiContext& context, const CaveRow& row, const std::vector<Silence>& silences) {
  const rules::CaveView view = context.watch.View(row.id);
  Cave told;
  told.name = row.name;
  told.state = view.state;
  told.has_lid = row.kind == CaveKind::kBox;
  told.gas = GasWords(context, row.id);
  told.empty = std::ranges::none_of(
      context.book().Wheels(), [&](const WheelRow* wheel) { return context.book().PlaceOf(*wheel).cave == row.id; });
  for (const rules::ChannelView* channel : {&view.humidity, &view.temperature}) {
    if (channel->state != view.state || channel->side == 0) continue;
    told.of_air = channel == &view.temperature;
    told.side = channel->side;
    const auto out_by = OutBy(context, row, *channel);
    told.out_by = out_by ? std::optional(context.book().Home().zone.ToLocal(*out_by)) : std::nullopt;
  }
  told.called = IsCalled(context, row, told.of_air, told.side);
  told.back = view.state == rules::CaveState::kInBand && HasAirBack(context, row);
  const rules::ChannelView& air = view.temperature;
  told.back_now = told.state == rules::CaveState::kOutOfBand && told.of_air && !told.called && air.latest && air.band &&
                  *air.latest >= air.band->low && *air.latest <= air.band->high;
  // In band by nothing but what it borrows from around it: the keeper's eye is asked for.
  if (!HasOwnProbe(view) && view.state == rules::CaveState::kInBand) told.state = rules::CaveState::kNotWatched;
  const bool own = HasOwnProbe(view), warmth = view.temperature.watched || view.temperature.borrowed;
  if (told.state == rules::CaveState::kNotWatched && own) told.unwatched = Cave::Unwatched::kJudging;
  if (told.state == rules::CaveState::kNotWatched && !own && warmth) told.unwatched = Cave::Unwatched::kHumidity;
  told.damp_unseen = told.has_lid && !told.empty && !view.humidity.watched;
  told.damp_judged = view.humidity.band.has_value();
  const auto known = [](const rules::ChannelView& channel) {
    return channel.state == rules::CaveState::kUnknown ? std::nullopt : channel.mean;
  };
  if (view.temperature.watched && !view.temperature.borrowed) told.temperature = known(view.temperature);
  // What is borrowed is told by the place around it; but here it is what is wrong.
  if (told.state == rules::CaveState::kOutOfBand && told.of_air && !told.called) {
    told.temperature = known(view.temperature);
    told.keep = view.temperature.band;
  }
  told.latest = LatestFarFrom(context, row.id, told.temperature);
  if (view.humidity.watched) told.humidity = known(view.humidity);
  for (const rules::ChannelView* channel : {&view.humidity, &view.temperature}) {
    if (told.state == rules::CaveState::kUnknown && channel->state == told.state && channel->watched)
      told.why_unknown = UnknownWords(context.words, WhyUnknown(context, row, *channel));
  }
  for (const Silence& silence : silences) {
    if (silence.cave == row.id) told.unknown.emplace_back(silence.from, silence.to);
  }
  return told;
}

// A box with a probe in which nothing ripens is looked at when something is put into it, or something is wrong with it.
bool IsIdle(const ApiContext& context, const CaveRow& row, const Cave& told) {
  if (!told.has_lid || !told.empty || !HasOwnProbe(context.watch.View(row.id))) return false;
  const bool well = told.state == rules::CaveState::kInBand || told.state == rules::CaveState::kNotWatched;
  if (!well || !told.unknown.empty() || !told.gas.empty()) return false;
  const std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::none_of(alarms, [&](const rules::Alarm& alarm) { return alarm.cave == row.id && !alarm.over; });
}

// Wheels that are told alike are one line.
void AddAlike(std::vector<Alarm::Touched>& touched, Alarm::Touched one) {
  const auto alike = std::ranges::find_if(touched, [&](const Alarm::Touched& other) {
    return std::tie(other.what, other.place, other.when, other.own) == std::tie(one.what, one.place, one.when, one.own);
  });
  if (alike == touched.end()) {
    touched.push_back(std::move(one));
    return;
  }
  alike->count += one.count;
  if (alike->state != one.state) alike->state.clear();
  if (alike->grams != one.grams) alike->grams = 0;
}

// Of one family in one place their weight tells which are meant, or else their state: what holds is kept cooler.
void TellApart(const Words& words, std::vector<Alarm::Touched>& touched) {
  std::vector<Alarm::Touched> apart = touched;
  for (Alarm::Touched& one : apart) {
    const auto shared = [&](auto of) {
      return std::ranges::count_if(touched, [&](const Alarm::Touched& other) {
        return other.what == one.what && other.place == one.place && of(other) == of(one);
      });
    };
    if (shared([](const Alarm::Touched&) { return true; }) < 2) continue;
    const std::string wheels = one.what;
    if (one.grams > 0 && shared([](const Alarm::Touched& other) { return other.grams; }) == 1) {
      one.what = words.Say("alarm.sized", {{"wheels", wheels}, {"weight", WeightWords(one.grams)}});
    } else if (!one.state.empty() && shared([](const Alarm::Touched& other) { return other.state; }) == 1) {
      one.what = words.Say("alarm.staged", {{"wheels", wheels}, {"state", words.Say("wheel." + one.state)}});
    }
  }
  touched = std::move(apart);
}

// "at the core down to about 8.1 °C"
std::string OwnWords(const Words& words, rules::AlarmKind kind, double own) {
  const char* key = kind == rules::AlarmKind::kTooCold ? "alarm.own coldest" : "alarm.own warmest";
  return words.Say(key, {{"value", AlarmFigure(words, kind, own)}});
}

}  // namespace

std::string LostWords(const ApiContext& context, const rules::Alarm& alarm) {
  std::vector<std::string> days;
  for (const rules::Date day : DaysLost(context.book(), alarm)) days.push_back(ShortDay(context.words, day));
  if (days.empty()) return {};
  return context.words.Count("morning.uncounted", days.size(), {{"days", Join(days, ", ")}});
}

std::string SaidWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (const std::string doubted = DoubtWords(context.words, alarm); !doubted.empty()) {
    const bool wet = alarm.kind == rules::AlarmKind::kProbeWet;
    const char* key = !wet ? "alarm.said.stuck" : alarm.over ? "alarm.said.wet over" : "alarm.said.wet";
    return context.words.Say(key, {{"said", doubted}});
  }
  std::vector<std::pair<std::string, std::string>> who;
  for (const rules::ProbeSaid& said : alarm.said) {
    const ProbeRow* probe = context.book().Probe(said.probe);
    const auto kind =
        said.kind == rules::ChannelKind::kHumidity ? rules::AlarmKind::kTooDry : rules::AlarmKind::kTooWarm;
    who.emplace_back(probe ? probe->name : std::string{}, AlarmFigure(context.words, kind, said.value));
  }
  return ProbesWords(context.words, who);
}

// When nobody watched a probe that is silent.
std::vector<std::string> UnwatchedWords(const ApiContext& context, const DatedSilence& dated) {
  const auto moment = [&](rules::Instant at) {
    const rules::Zone& zone = context.book().Home().zone;
    return MomentWords(context.words, zone.ToLocal(at), zone.ToLocal(context.now()));
  };
  std::vector<std::string> words;
  if (const auto& begun = dated.begun)
    words.push_back(
        BegunUnwatchedWords(context.words, moment(dated.last_word), moment(begun->from), moment(begun->to)));
  if (const auto& within = dated.within)
    words.push_back(
        context.words.Say("alarm.unwatched within", {{"from", moment(within->from)}, {"to", moment(within->to)}}));
  return words;
}

Alarm AlarmOf(const ApiContext& context, const rules::Alarm& alarm) {
  const rules::Zone& zone = context.book().Home().zone;
  const CaveRow* cave = context.book().Cave(alarm.cave);
  Alarm told;
  told.cave = cave ? cave->name : "";
  told.kind = alarm.kind;
  const rules::Instant since = ToldSince(context.watch, alarm);
  told.since = zone.ToLocal(since);
  told.lasts =
      std::chrono::floor<std::chrono::minutes>(context.now()) - std::chrono::floor<std::chrono::minutes>(since);
  told.hint = alarm.severity < rules::Severity::kWatch;
  if (const auto end = alarm.back_since ? alarm.back_since : alarm.over;
      alarm.kind == rules::AlarmKind::kUnwatched && end && *end > alarm.since)
    told.until = zone.ToLocal(*end);
  // The others have no figure of now.
  told.why = alarm.why;
  const bool charge = alarm.kind == rules::AlarmKind::kBatteryLow;
  if (HasFigure(alarm.kind) || charge || Asks(alarm.kind, alarm.why)) told.value = ValueNow(context, alarm);
  if (told.value) told.band = alarm.band;
  if (told.band && !alarm.over) told.band_for = BandFor(context, alarm);
  if (!alarm.over && (alarm.kind == rules::AlarmKind::kTooWarm || alarm.kind == rules::AlarmKind::kTooCold))
    told.latest = LatestFarFrom(context, alarm.cave, told.value);
  told.never_left = rules::NeverLeft(alarm);
  told.was_out = alarm.band && (alarm.extreme < alarm.band->low || alarm.extreme > alarm.band->high);
  const auto course = CourseNow(context, alarm);
  told.inside = course == rules::Knowing::kBack;
  told.eases = course == rules::Knowing::kTurning;
  told.ends_at = EndsAt(context, alarm);
  if (const auto inside = InsideSince(context, alarm)) told.inside_since = zone.ToLocal(*inside);
  if (told.value) told.trend = TrendNow(context, alarm);
  told.taken = alarm.taken.has_value();
  told.acts = alarm.severity >= rules::Severity::kAct;
  const bool asks = alarm.Rings() && !told.inside && !told.ends_at && !rules::IsGas(alarm.kind);
  told.urgent = IsStillUrgent(context, alarm) || (asks && alarm.severity == rules::Severity::kUrgent);
  told.last = LastOfUnknownGas(context, alarm);
  told.of_people = rules::IsGas(alarm.kind) || DarkensGas(context.book(), alarm);
  if (const Book::Taking* taking = context.book().TakenBy(alarm.id)) {
    told.taken_by = taking->keeper;
    if (!alarm.taken) told.taken_before = zone.ToLocal(taking->at);
  }
  // Those that it comes to, the first first, with the span that is left.
  const std::vector<Concern> concerns = Concerns(context, AsForeseen(context, alarm));
  for (const Concern& wheels : concerns) {
    Alarm::Touched touched{static_cast<int>(wheels.count), wheels.family, wheels.cave, {}, {}};
    if (wheels.soonest && !alarm.over) {
      const bool dark = alarm.kind == rules::AlarmKind::kPowerGone;
      touched.when = dark ? DarkMatterWords(context.words, *wheels.soonest, wheels.latest, zone.ToLocal(context.now()))
                          : MatterWords(context.words, *wheels.soonest, wheels.latest);
    }
    if (wheels.past)
      touched.when = context.words.Say("matter.past", {{"band", BandFigure(context.words, *wheels.past)}});
    const bool cold = alarm.kind == rules::AlarmKind::kTooCold;
    // Nothing is foreseen of wheels in cold air: how far they have come is what is known.
    if (wheels.own && cold && !alarm.over && touched.when.empty())
      touched.when = context.words.Say("alarm.own so far", {{"own", OwnWords(context.words, alarm.kind, *wheels.own)}});
    if (wheels.own && alarm.over) {
      touched.own = OwnWords(context.words, alarm.kind, *wheels.own);
      if (const auto left = wheels.LeftBand())
        touched.own = context.words.Say(wheels.as_before ? "alarm.own as before"
                                        : *left          ? "alarm.own beyond"
                                                         : "alarm.own within",
                                        {{"own", touched.own}, {"band", BandFigure(context.words, *wheels.keep)}});
    }
    touched.grams = wheels.grams;
    touched.state = wheels.state;
    AddAlike(told.touched, std::move(touched));
  }
  // Of air on its way back nothing is foreseen, and wheels go on for a while.
  const bool timed =
      !told.inside && !told.eases && std::ranges::any_of(concerns, [](const Concern& one) { return !!one.soonest; });
  for (Alarm::Touched& touched : told.touched) {
    if (timed && touched.when.empty()) touched.when = context.words.Say("matter.not now");
  }
  for (Alarm::Touched& touched : told.touched) touched.what = KinWord(context.words, touched.what, touched.count);
  TellApart(context.words, told.touched);
  // The order of the day is to follow the plan, not to mend anything.
  if (alarm.why == rules::Why::kPlanStep) told.facts.push_back(context.words.Say("why.plan step"));
  if (const std::string lost = LostWords(context, alarm); !alarm.over && !lost.empty()) told.facts.push_back(lost);
  told.who = WhoMayBeIn(context, alarm);
  for (std::string& warning : WarningsBesideWho(context, alarm)) told.facts.push_back(std::move(warning));
  for (std::string& fact : UnwatchedWords(context, DatedOf(context.watch, alarm)))
    told.facts.push_back(std::move(fact));
  if (std::string day = DayMeanWords(context, alarm); !day.empty()) told.facts.push_back(std::move(day));
  if (std::string freezes = FreezingWords(context, alarm); !freezes.empty()) told.facts.push_back(std::move(freezes));
  if (alarm.cause) told.facts.push_back(context.words.Say("alarm.cause." + std::string(rules::ToText(*alarm.cause))));
  if (const std::string said = SaidWords(context, alarm); !said.empty()) told.facts.push_back(said);
  told.first = FirstThings(context, alarm);
  return told;
}

namespace {

// With what is known of the air, which the letter says in a block of its own.
Alarm Listed(const ApiContext& context, const rules::Alarm& alarm) {
  Alarm told = AlarmOf(context, alarm);
  if (alarm.kind == rules::AlarmKind::kUnwatched || alarm.kind == rules::AlarmKind::kPowerGone)
    told.facts.push_back(Join({WhyWords(context.words, alarm), EdgesWords(context.words, alarm)}, " "));
  if (alarm.why == rules::Why::kOneProbe) told.facts.push_back(WhyWords(context.words, alarm));
  return told;
}

}  // namespace

void AddStanding(const ApiContext& context, rules::Instant told_until, List& list) {
  const json::object head = HeadJson(context);
  for (const json::value& trouble : head.at("troubles").as_array())
    list.troubles.push_back(Join({Text(trouble.as_object(), "text"), Text(trouble.as_object(), "more")}, " "));
  std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  std::ranges::stable_sort(alarms, std::ranges::greater{}, [](const rules::Alarm& alarm) {
    return rules::IsGas(alarm.kind) ? std::optional(alarm.severity) : std::nullopt;
  });
  for (const rules::Alarm& alarm : alarms) {
    if (alarm.over || !IsListed(alarm)) continue;
    list.alarms.push_back(Listed(context, alarm));
  }
  // What waits for a hand comes first; where people breathe it, the gravest, whoever took it.
  std::ranges::stable_partition(list.alarms, [](const Alarm& alarm) { return alarm.of_people || !alarm.taken; });
  std::ranges::stable_partition(list.alarms, [](const Alarm& alarm) { return alarm.of_people; });
  // A quiet word of gas leads nothing that wants a hand.
  std::ranges::stable_partition(list.alarms, [](const Alarm& alarm) { return alarm.acts && !alarm.taken; });
  std::ranges::stable_partition(list.alarms, [](const Alarm& alarm) { return alarm.urgent; });
  std::ranges::stable_partition(list.alarms, [](const Alarm& alarm) { return alarm.of_people && alarm.acts; });
  std::ranges::stable_partition(list.alarms, Leads);
  const std::vector<Silence> silences = AddPast(context, told_until, list);
  for (const CaveRow* cave : context.book().Caves()) {
    if (Cave told = CaveOf(context, *cave, silences); !IsIdle(context, *cave, told))
      list.caves.push_back(std::move(told));
  }
  list.news = NewsOfCaves(context);
  // A defrost that has just passed is not how a day begins.
  std::erase_if(list.news, [&](const CaveNews& news) {
    if (!news.unsuited.empty()) return false;
    return std::ranges::any_of(list.caves, [&](const Cave& cave) { return cave.back_now && cave.name == news.cave; });
  });
}

}  // namespace rindwatch::morning
