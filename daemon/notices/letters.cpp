#include "daemon/notices/letters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "daemon/api/alarm_past.hpp"
#include "daemon/api/barred.hpp"
#include "daemon/api/course.hpp"
#include "daemon/api/days_lost.hpp"
#include "daemon/api/edges.hpp"
#include "daemon/api/ending.hpp"
#include "daemon/api/first_things.hpp"
#include "daemon/api/gas.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/sentence.hpp"
#include "daemon/api/silence.hpp"
#include "daemon/api/warnings.hpp"
#include "daemon/api/within.hpp"
#include "daemon/morning/left.hpp"
#include "daemon/morning/list.hpp"
#include "daemon/morning/phrase_parts.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/morning/standing.hpp"
#include "daemon/morning/text.hpp"
#include "daemon/notices/dark.hpp"
#include "daemon/words/alarm_word.hpp"
#include "daemon/words/natural.hpp"

namespace rindwatch {

using rules::Alarm;
using std::chrono::floor;
using std::chrono::minutes;

namespace {

// In an address only these stand for themselves (RFC 3986, section 2.3).
std::string Encoded(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
                       c == '.' || c == '_' || c == '~';
    safe += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return safe;
}

std::string Number(double value) { return fmt::format("{:.1f}", value); }

// That there are more stands behind it.
constexpr std::size_t kMostOfSeveral = morning::kMostOfSubject - 27;

bool IsOfHumidity(rules::AlarmKind kind) {
  return kind == rules::AlarmKind::kTooDry || kind == rules::AlarmKind::kTooDamp;
}

// "5.2 degree-hours", "1 degree-hour"
std::string DoseWords(const Words& words, const Alarm& alarm) {
  const char* unit = IsOfHumidity(alarm.kind) ? "journal.dose.points" : "journal.dose.degrees";
  const long tenths = std::lround(alarm.dose * 10);
  const std::string dose = tenths % 10 == 0 ? std::to_string(tenths / 10) : Number(static_cast<double>(tenths) / 10);
  return words.Count(unit, tenths == 10 ? 1 : 2, {{"dose", dose}});
}

std::string WheelsWords(const morning::Alarm::Touched& touched) {
  return fmt::format("{} {}, {}", touched.count, touched.what, touched.place);
}

// From both edges of a time of which nothing was heard, and what that means; empty: not of this alarm, or not known
// yet. Of a time that nobody watched the reason says what it means.
std::string EdgesAndMeaning(const ApiContext& context, const Alarm& alarm) {
  const std::string said = EdgesWords(context.words, alarm), meaning = EdgesSay(context, alarm);
  return said.empty() || meaning.empty() ? said : said + " " + meaning;
}

// While nobody watched; 0: of anything else.
double WarmedBy(const Alarm& alarm) {
  const bool known = alarm.kind == rules::AlarmKind::kUnwatched && alarm.before && alarm.over;
  return known ? alarm.value - *alarm.before : 0;
}

// "plant", of a plant that does not keep up.
bool RepeatsKind(const std::string& what, rules::AlarmKind kind) {
  using enum rules::AlarmKind;
  if (what == "plant") return kind == kPlantWeak;
  if (what == "power") return kind == kPowerGone;
  if (what == "door") return kind == kDoorOpen;
  return what == "probe" && (StaysUnknown(kind) || kind == kProbesDisagree || kind == kBatteryLow);
}

std::string ShortDays(const Words& words, const std::vector<rules::Date>& days) {
  std::string text;
  for (const rules::Date day : days) text += (text.empty() ? "" : ", ") + ShortDay(words, day);
  return text;
}

// "16200 ppm."; empty: it is of no gas.
std::string GasSentence(const Words& words, const morning::Alarm& told) {
  const std::string figure = morning::GasFigure(words, told);
  return figure.empty() ? figure : morning::Opening(figure) + ".";
}

// How loud its subject is.
const char* LoudKey(const Alarm& alarm) {
  if (alarm.severity == rules::Severity::kUrgent) return "notice.urgent";
  return alarm.severity >= rules::Severity::kAct ? "notice.act" : "notice.rings";
}

bool IsOfPeople(const Alarm& alarm) {
  return rules::IsGas(alarm.kind) && !alarm.over && alarm.severity >= rules::Severity::kAct;
}

// What is urgent says so in every subject, however often it comes.
bool IsUrgent(const Alarm& alarm) { return alarm.severity == rules::Severity::kUrgent; }
const char* EscalatedKey(const Alarm& alarm) {
  return IsUrgent(alarm) ? "notice.escalated.urgent" : "notice.escalated";
}
const char* AgainKey(const Alarm& alarm) { return IsUrgent(alarm) ? "notice.again.urgent" : "notice.again"; }

}  // namespace

std::string Letters::PageOf(const std::string& alarm) const { return page_ + "/alarms/" + Encoded(alarm); }

std::string Letters::Whole(const std::string& text) const {
  return context_.trial ? context_.words.Say("notice.trial", {{"subject", text}}) : text;
}

// As a list of messages shows it.
std::string Letters::Subject(const std::string& text) const { return morning::ShortSubject(Whole(text)); }

Letter Letters::Marked(Letter letter, const Alarm& alarm) const {
  const CaveRow* cave = context_.book().Cave(alarm.cave);
  letter.severity = rules::ToText(alarm.severity);
  letter.alarm = alarm.id;
  letter.cave = alarm.cave;
  letter.cave_name = cave ? cave->name : "";
  return letter;
}

// "Fridge too warm"
std::string Letters::Title(const Alarm& alarm) const {
  const CaveRow* cave = context_.book().Cave(alarm.cave);
  return context_.words.Say("alarm.title",
                            {{"cave", cave ? cave->name : ""}, {"what", AlarmWord(context_.words, alarm)}});
}

// "04:20", and of another day "Sat 28 04:20".
std::string Letters::MomentOf(rules::Instant at) const {
  const rules::Zone& zone = context_.book().Home().zone;
  return MomentWords(context_.words, zone.ToLocal(at), zone.ToLocal(context_.now()));
}

// Of which probe it is, with what its battery still holds; empty: of none.
std::string Letters::ProbeWords(const Alarm& alarm) const {
  const ProbeRow* probe = alarm.probe ? context_.book().Probe(*alarm.probe) : nullptr;
  if (!probe) return {};
  if (alarm.kind != rules::AlarmKind::kBatteryLow) return context_.words.Say("notice.probe", {{"probe", probe->name}});
  return context_.words.Say("notice.probe battery",
                            {{"probe", probe->name}, {"percent", fmt::format("{:.0f}", alarm.value)}});
}

// What it is, since when and how far; of a time that nobody watched its span, and what the air did meanwhile; of gas
// who may be in it.
std::string Letters::Head(const Alarm& alarm) const {
  const std::string head = morning::AlarmWords(context_.words, morning::AlarmOf(context_, alarm));
  const std::string news = alarm.kind == rules::AlarmKind::kUnwatched ? EdgesNews(context_.words, alarm) : "";
  // Whoever is called by night looks there first.
  const std::string broker = IsPerhapsOfBroker(context_, alarm) ? context_.words.Say("notice.no broker") : "";
  return morning::Join({head, news, broker, WhoMayBeIn(context_, alarm)}, " ");
}

// How it stands now, in a sentence.
std::string Letters::Standing(const Alarm& alarm, Asking asks) const {
  const Words& words = context_.words;
  if (alarm.Unjudged()) {
    const bool moved = alarm.ending == rules::Ending::kAskedOtherwise;
    return words.Say(moved ? "notice.stands.asked otherwise" : "notice.stands.unjudged",
                     {{"title", Title(alarm)}, {"time", MomentOf(*alarm.over)}});
  }
  if (alarm.over && alarm.kind == rules::AlarmKind::kUnwatched) return Head(alarm);
  if (alarm.over && EndedUnseen(context_.book(), alarm.id))
    return words.Say("notice.stands.unseen", {{"title", Title(alarm)}, {"time", MomentOf(*alarm.over)}});
  if (alarm.over) {
    const rules::Zone& zone = context_.book().Home().zone;
    const std::string span = SpanWords(words, zone.ToLocal(ToldSince(context_.watch, alarm)),
                                       zone.ToLocal(alarm.LastedUntil()), zone.ToLocal(context_.now()));
    return words.Say("notice.stands.over", {{"title", Title(alarm)}, {"span", span}});
  }
  if (!alarm.taken && asks == Asking::kAnew) return Head(alarm);
  if (!alarm.taken) return words.Say("notice.stands.untaken", {{"alarm", Head(alarm)}});
  return morning::WithUrgency(words, morning::AlarmOf(context_, alarm),
                              words.Say("notice.stands.taken", {{"alarm", Head(alarm)}}));
}

void Letters::Describe(Letter& letter, const Alarm& alarm, Asking asks, std::optional<rules::Instant> first) const {
  const Words& words = context_.words;
  // What was said and can be no other is not told once more.
  const bool known = first && KeepsItsSteps(context_, alarm);
  const morning::Alarm told = morning::AlarmOf(context_, alarm);
  if (alarm.found_later) letter.Text(words.Say("alarm.found"));
  // Of air that comes back nobody says that it does not turn.
  if (known)
    letter.Text(DarkNews(context_, alarm));
  else if (!told.inside && !told.eases)
    letter.Text(WhyWords(words, alarm));
  letter.Text(ProbeWords(alarm));
  for (const std::string& fact : told.facts) letter.Text(fact);  // who may be in there stands in the head
  if (!alarm.over && (alarm.taken || told.taken_before || asks == Asking::kForAWhile))
    letter.Text(morning::TakenWords(words, told, asks == Asking::kForAWhile));
  std::vector<std::pair<std::string, std::string>> rows;
  rows.reserve(told.touched.size());
  for (const morning::Alarm::Touched& touched : told.touched) rows.emplace_back(WheelsWords(touched), touched.when);
  const bool timed = std::ranges::any_of(rows, [](const auto& row) { return !row.second.empty(); });
  const bool dark = alarm.kind == rules::AlarmKind::kPowerGone;
  const char* matters = dark ? "alarm.it matters dark" : "alarm.it matters";
  letter.Rows(words.Say(timed ? matters : "notice.wheels"), std::move(rows));
  if (!known) letter.Text(EdgesAndMeaning(context_, alarm));
  // Of a time that nobody watched the end is all that is told: it asks for a look all the same.
  if (known)
    letter.Text(words.Say("notice.first as", {{"time", MomentOf(*first)}}));
  else if (!alarm.over || alarm.kind == rules::AlarmKind::kUnwatched)
    letter.Steps(words.Say("alarm.first"), told.first);
  const bool untaken = !alarm.over && !alarm.taken;
  letter.Link(words.Say(alarm.over ? "notice.open over" : untaken ? "notice.open" : "notice.see"), PageOf(alarm.id));
  if (untaken) letter.Text(words.Say("notice.take low"));
}

Letter Letters::Rings(const Alarm& alarm, const std::string& subject_key, Asking asks,
                      std::optional<rules::Instant> first) const {
  const Words& words = context_.words;
  const std::string text = words.Say(subject_key, {{"alarm", Head(alarm)}});
  Letter letter;
  letter.grave = alarm.severity >= rules::Severity::kAct;
  // Who may be in gas is never left out.
  letter.subject = WhoMayBeIn(context_, alarm).empty() && !rules::IsGas(alarm.kind) ? Subject(text) : Whole(text);
  letter.Head(text);
  Describe(letter, alarm, asks, first);
  return letter;
}

Letter Letters::Taken(const Alarm& alarm) const {
  const Words& words = context_.words;
  const Book::Taking* taking = context_.book().TakenBy(alarm.id);
  const std::string* taker = taking && !taking->keeper.empty() ? &taking->keeper : nullptr;
  const std::string time = MomentOf(alarm.taken.value_or(context_.now()));
  const std::string text =
      taker ? words.Say("notice.taken by", {{"name", *taker}, {"title", Title(alarm)}, {"time", time}})
            : words.Say("notice.taken", {{"title", Title(alarm)}, {"time", time}});
  const morning::Alarm told = morning::AlarmOf(context_, alarm);
  const std::string all = morning::WithUrgency(words, told, morning::Join({text, GasSentence(words, told)}, " "));
  Letter letter;
  letter.subject = Subject(all);
  letter.Head(all).Text(words.Say("notice.taken low")).Link(words.Say("notice.see"), PageOf(alarm.id));
  return letter;
}

// Whoever hears that the air is heard again has to know if that air is still on its way to harm.
void Letters::SayWhatStandsThere(Letter& letter, const Alarm& over) const {
  if (over.kind != rules::AlarmKind::kPowerGone && over.kind != rules::AlarmKind::kProbeSilent &&
      over.kind != rules::AlarmKind::kProbeStuck)
    return;
  for (const Alarm& alarm : context_.watch.Engine().Alarms()) {
    const bool stands =
        !alarm.over && IsWithin(context_.book(), alarm.cave, over.cave) && rules::IsOfWarmth(alarm.kind);
    if (!stands || alarm.severity < rules::Severity::kAct || IsBackInBand(context_, alarm)) continue;
    letter.Text(context_.words.Say("notice.still there", {{"alarm", Head(alarm)}}));
    letter.Steps(context_.words.Say("alarm.first"), FirstThings(context_, alarm));
  }
}

// What it was: how long, how far, which wheels, what it cost.
void Letters::Recount(Letter& letter, const Alarm& alarm) const {
  const Words& words = context_.words;
  // Counted from the minutes that are shown.
  const auto lasted = floor<minutes>(alarm.LastedUntil()) - floor<minutes>(ToldSince(context_.watch, alarm));
  std::string long_words = LastsWords(words, lasted);
  // An alarm stands for longer than its air is beyond the band: where both differ, both are said.
  const auto beyond = floor<minutes>(alarm.beyond);
  if (rules::IsOfBand(alarm.kind) && beyond.count() > 0 && lasted - beyond >= minutes{30})
    long_words = words.Say("notice.lasted beyond", {{"long", long_words}, {"beyond", LastsWords(words, beyond)}});
  // What nobody knew is told as inside by no sum.
  const auto unknown = rules::IsOfBand(alarm.kind) ? floor<minutes>(alarm.Unknown()) : minutes{0};
  if (unknown >= minutes{15})
    long_words = words.Say("notice.lasted unknown", {{"long", long_words}, {"unknown", LastsWords(words, unknown)}});
  std::vector<std::pair<std::string, std::string>> rows{{words.Say("notice.lasted"), long_words}};
  if (HasFurthest(alarm) && alarm.why != rules::Why::kOneProbe) {
    rows.emplace_back(words.Say("notice.furthest"), AlarmFigure(words, alarm.kind, FurthestOf(context_.book(), alarm)));
    if (alarm.dose > 0) {
      rows.emplace_back(words.Say("notice.beyond"), DoseWords(words, alarm));
    }
  }
  if (const std::string most = MostWords(words, alarm); !most.empty())
    rows.emplace_back(words.Say("notice.worst"), most);
  std::string label = words.Say("notice.wheels");
  for (const morning::Alarm::Touched& touched : morning::AlarmOf(context_, alarm).touched)
    rows.emplace_back(std::exchange(label, {}), WheelsWords(touched) + (touched.own.empty() ? "" : ": " + touched.own));
  const std::vector<rules::Date> lost = DaysLost(context_.book(), alarm);
  if (!lost.empty()) rows.emplace_back(words.Say("notice.uncounted"), ShortDays(words, lost));
  // Whoever comes to help has to know, and most of all now that the door may be shut.
  letter.Text(WhoWasIn(context_, alarm));
  letter.Text(ProbeWords(alarm)).Text(EndingWords(context_, alarm));
  // What contradicting probes say when it ends is neither what they said then nor what is so.
  letter.Text(alarm.why == rules::Why::kOneProbe ? words.Say("stays unknown.odds")
                                                 : morning::SaidWords(context_, alarm));
  letter.Rows("", std::move(rows));
  const std::string edges = EdgesAndMeaning(context_, alarm);
  letter.Text(edges.empty() ? UnknownAfter(words, alarm.kind) : edges);
  SayWhatStandsThere(letter, alarm);
  if (const std::size_t open = OpenAgain(context_, alarm)) letter.Text(words.Count("notice.open again", open));
  if (alarm.Unjudged() && rules::IsOfBand(alarm.kind) && alarm.ending != rules::Ending::kAskedOtherwise)
    letter.Text(words.Say("notice.unjudged low"));
  if (CostsNoDay(context_.book(), alarm)) letter.Text(words.Say("alarm.costs no day"));
  // What nobody judges any more may be as it was.
  if (rules::IsGas(alarm.kind))
    letter.Text(words.Say(alarm.Unjudged() || EndedUnseen(context_.book(), alarm.id) ? "notice.gas unjudged"
                                                                                     : "notice.gas over"));
  const std::string* what = context_.book().CalledAs(alarm.id);
  if (what && !RepeatsKind(*what, alarm.kind))
    letter.Text(
        words.Say("notice.it was", {{"what", words.Has("what." + *what) ? words.Say("what." + *what) : *what}}));
  letter.Link(words.Say(what ? "notice.see" : "notice.what was it"), PageOf(alarm.id));
}

Letter Letters::Over(const Alarm& alarm) const {
  const std::string text = Standing(alarm, Asking::kAnew);
  Letter letter;
  letter.ended = {alarm.id};
  letter.subject = Subject(text);
  letter.Head(text);
  Recount(letter, alarm);
  return letter;
}

Letter Letters::OfAlarm(const rules::Notice& notice, const Alarm& alarm, Before before,
                        std::optional<rules::Instant> first) const {
  using enum rules::NoticeKind;
  const auto marked = [&](Letter letter) {
    letter.kind = rules::ToText(notice.kind);
    return Marked(std::move(letter), alarm);
  };
  switch (notice.kind) {
    case kRings: {
      // A quiet word calls nobody.
      const bool others = before == Before::kOthersToo && alarm.severity >= rules::Severity::kAct;
      const char* key = others ? EscalatedKey(alarm) : LoudKey(alarm);
      return marked(Rings(alarm, key, others ? Asking::kForAWhile : Asking::kAnew));
    }
    case kAgain:
      return marked(Rings(alarm, AgainKey(alarm), Asking::kForAWhile, first));
    case kTaken:
      return marked(Taken(alarm));
    case kOver:
      return marked(Over(alarm));
  }
  return {};
}

namespace {
// What there is to say of it now. `waited`: it has asked for a while.
rules::NoticeKind KindNow(const Alarm& alarm, bool waited) {
  if (alarm.over) return rules::NoticeKind::kOver;
  if (alarm.taken) return rules::NoticeKind::kTaken;
  return waited ? rules::NoticeKind::kAgain : rules::NoticeKind::kRings;
}

// How many of them one tap takes together on the page where they stand.
std::size_t TakenTogether(const ApiContext& context, const std::vector<const Alarm*>& alarms) {
  return static_cast<std::size_t>(std::ranges::count_if(alarms, [&](const Alarm* alarm) {
    return alarm->Rings() && alarm->severity >= rules::Severity::kAct && !rules::IsGas(alarm->kind) &&
           !DarkensGas(context.book(), *alarm) && !IsBackInBand(context, *alarm);
  }));
}
}  // namespace

// What is said of an alarm where another one leads the letter. Of gas nothing is left out that whoever goes there has
// to know.
std::string Letters::Besides(const Alarm& alarm, Asking asks) const {
  const bool heard = alarm.over || alarm.kind == rules::AlarmKind::kUnwatched;
  std::vector<std::string> said{Standing(alarm, asks), heard ? EdgesAndMeaning(context_, alarm) : ""};
  if (IsOfPeople(alarm)) std::ranges::move(WarningsBesideWho(context_, alarm), std::back_inserter(said));
  said.push_back(WhoWasIn(context_, alarm));
  return morning::Join(said, " ");
}

// What lasts and nobody took stands first, people before cheese, then the gravest; what rang at once as people count
// its places.
void Letters::InOrder(std::vector<const Alarm*>& alarms) const {
  constexpr minutes at_once{5};
  const auto rank = [&](const Alarm* alarm) {
    return std::tuple(!alarm->Rings(), !IsOfPeople(*alarm), -static_cast<int>(alarm->severity), -WarmedBy(*alarm),
                      alarm->Rings() ? alarm->raised.time_since_epoch() / at_once : 0);
  };
  std::ranges::stable_sort(alarms, [&](const Alarm* a, const Alarm* b) {
    if (rank(a) != rank(b)) return rank(a) < rank(b);
    return a->Rings() && NaturallyBefore(Title(*a), Title(*b));
  });
}

// It leads to the page where all stand, and one tap takes them.
void Letters::LeadToAll(Letter& letter, std::size_t count) const {
  const auto link = std::ranges::find(letter.blocks, Letter::Block::Kind::kLink, &Letter::Block::kind);
  if (link == letter.blocks.end()) return;
  link->text = context_.words.Count("notice.open all", count);
  link->address = page_ + "/alarms";
}

Letter Letters::OfSeveral(const std::vector<Told>& told, bool late) const {
  const Words& words = context_.words;
  std::vector<const Alarm*> alarms;
  std::vector<std::string> lost;
  std::set<std::string> waited;
  for (const Told& one : told) {
    if (!one.alarm) lost.push_back(one.subject);
    if (one.alarm && one.waited) waited.insert(one.alarm->id);
    const bool known = std::ranges::any_of(
        alarms, [&](const Alarm* alarm) { return one.alarm != nullptr && alarm->id == one.alarm->id; });
    if (one.alarm && !known) alarms.push_back(one.alarm);
  }
  InOrder(alarms);
  if (alarms.size() == 1 && lost.empty() && !late) {
    const rules::Notice notice{{}, alarms.front()->id, KindNow(*alarms.front(), !waited.empty()), {}, 0};
    return OfAlarm(notice, *alarms.front(), Before::kNothing);
  }
  Letter letter;
  const auto asks = [&](const Alarm* alarm) { return waited.contains(alarm->id) ? Asking::kForAWhile : Asking::kAnew; };
  const std::string first = alarms.empty() ? lost.front() : Standing(*alarms.front(), asks(alarms.front()));
  const std::size_t others = alarms.size() + lost.size() - 1;
  // Of gas and who may be in it nothing is left out.
  const bool of_people = !alarms.empty() && IsOfPeople(*alarms.front());
  const bool together = !of_people && TakenTogether(context_, alarms) > 1;
  const std::string lead = of_people ? first : morning::ShortSubject(first, kMostOfSeveral);
  const std::string subject = others == 0 ? first : words.Count("notice.several", others, {{"alarm", lead}});
  const bool loud = !alarms.empty() && alarms.front()->Rings();
  const std::string called = loud ? words.Say(LoudKey(*alarms.front()), {{"alarm", subject}}) : subject;
  letter.subject = of_people ? Whole(called) : Subject(called);
  letter.Head(loud ? words.Say(LoudKey(*alarms.front()), {{"alarm", first}}) : first);
  if (late) letter.Text(words.Say("notice.late"));
  if (!alarms.empty()) {
    letter = Marked(std::move(letter), *alarms.front());
    letter.kind = rules::ToText(KindNow(*alarms.front(), waited.contains(alarms.front()->id)));
    for (const Alarm* alarm : alarms)
      if (alarm->over) letter.ended.push_back(alarm->id);
    letter.grave = alarms.front()->Rings() && alarms.front()->severity >= rules::Severity::kAct;
    // That nobody has taken it stands in the head.
    if (alarms.front()->over && alarms.front()->kind != rules::AlarmKind::kUnwatched)
      Recount(letter, *alarms.front());
    else
      Describe(letter, *alarms.front(), Asking::kAnew);
    if (together) LeadToAll(letter, TakenTogether(context_, alarms));
  }
  std::vector<std::pair<std::string, std::string>> rows;
  for (std::size_t nth = 1; nth < alarms.size(); ++nth) rows.emplace_back(Besides(*alarms[nth], asks(alarms[nth])), "");
  for (std::size_t nth = alarms.empty() ? 1 : 0; nth < lost.size(); ++nth) rows.emplace_back(lost[nth], "");
  letter.Rows(words.Say("notice.besides"), std::move(rows));
  if (!together && std::ranges::count_if(alarms, &Alarm::Rings) > 1)
    letter.Link(words.Say("notice.open others"), page_ + "/alarms");
  if (alarms.empty()) letter.Link(words.Say("notice.see"), page_ + "/round");
  return letter;
}

Letter Letters::OfRound(bool evening, rules::Instant told_until) const {
  morning::List list = morning::ListOf(context_, {}, told_until);
  if (evening) list = morning::LeftOf(std::move(list));
  Letter letter;
  const std::string subject = morning::Subject(context_.words, list);
  letter.subject = Subject(evening ? context_.words.Say("notice.evening", {{"subject", subject}}) : subject);
  letter.grave = std::ranges::any_of(list.alarms,
                                     [](const morning::Alarm& alarm) { return !alarm.taken && morning::Leads(alarm); });
  letter.Head(subject).Plain(morning::Body(context_.words, list), morning::BodyForPhone(context_.words, list));
  letter.Link(context_.words.Say("notice.round"), page_ + "/round");
  return letter;
}

Letter Letters::OfTest() const {
  const Words& words = context_.words;
  Letter letter;
  letter.subject = Subject(words.Say("notice.test"));
  letter.Head(words.Say("notice.test"))
      .Text(words.Say("notice.test low", {{"page", page_}}))
      .Text(words.Say("notice.wakes nobody"));
  letter.Link(words.Say("notice.round"), page_ + "/round");
  return letter;
}

}  // namespace rindwatch
