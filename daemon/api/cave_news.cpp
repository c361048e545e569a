#include "daemon/api/cave_news.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>

#include "daemon/api/course.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/unknown.hpp"
#include "daemon/api/wheel_summary.hpp"
#include "daemon/words/kin_word.hpp"
#include "rules/alarms/ahead.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

using rules::Alarm;
using rules::AlarmKind;
using rules::CaveState;
using rules::ChannelView;

namespace {

// As the ribbon asks for them, so that they are worked out once.
constexpr rules::Millis kSteps = std::chrono::hours{24};

// The band of its wheels is another one than at the turn of the keeper's day.
bool MovedToday(const ApiContext& context, const CaveRow& cave) {
  const rules::Instant now = context.now(), turn = context.book().Home().StartOf(context.book().Home().DayOf(now));
  const std::vector<BandStep>& steps =
      context.bands->UpToNow(context.book(), cave, context.watch.View(cave.id), now - kSteps, now);
  // The first is how it was when the day before it began.
  return steps.size() > 1 && steps.back().from >= turn;
}

// What it borrows is told by the place around it. That its wheels want another air than that one is told on the day on
// which it comes to be so; after that it is a matter of where they lie, as the place's own line says each day.
bool IsAsAround(const ApiContext& context, const CaveRow& cave, const ChannelView& channel) {
  if (!channel.borrowed || !cave.inside) return channel.borrowed;
  if (channel.state == CaveState::kUnknown || channel.state == CaveState::kInBand) return true;
  const ChannelView around = context.watch.View(*cave.inside).temperature;
  return (around.state == channel.state && around.side == channel.side) || !MovedToday(context, cave);
}

// Of those that are its own matter; what it borrows is told by the place around it, unless that one is better off.
// None: nothing of it is watched, or all it has to say is said around it.
const ChannelView* WorstOf(const ApiContext& context, const CaveRow& cave, const rules::CaveView& view) {
  const ChannelView* worst = nullptr;
  for (const ChannelView* channel : {&view.temperature, &view.humidity}) {
    if (channel->state == CaveState::kNotWatched || IsAsAround(context, cave, *channel)) continue;
    if (!worst || WeightOf(channel->state) > WeightOf(worst->state)) worst = channel;
  }
  return worst;
}

bool Blinds(AlarmKind kind) {
  return kind == AlarmKind::kProbeSilent || kind == AlarmKind::kProbeStuck || kind == AlarmKind::kProbeWet ||
         kind == AlarmKind::kProbesDisagree;
}

bool IsOfAir(AlarmKind kind) { return rules::IsOfBand(kind) || kind == AlarmKind::kCondensation; }

AlarmKind KindOf(bool of_air, int side) {
  if (of_air) return side > 0 ? AlarmKind::kTooWarm : AlarmKind::kTooCold;
  return side > 0 ? AlarmKind::kTooDamp : AlarmKind::kTooDry;
}

// A cause that stands beside the air says why it moves: one event is told once.
bool IsCauseOf(AlarmKind kind, bool of_air) {
  switch (kind) {
    case AlarmKind::kDoorOpen:
    case AlarmKind::kPowerGone:
      return true;
    case AlarmKind::kPlantWeak:
      return of_air;
    case AlarmKind::kCondensation:
    case AlarmKind::kHumidifierDry:
    case AlarmKind::kDrainBlocked:
      return !of_air;
    default:
      return false;
  }
}

// A hint is not told in a sentence, and what another alarm tells is not told itself: neither may silence what is.
bool IsTold(const Alarm& alarm) { return !alarm.over && alarm.severity >= rules::Severity::kWatch && !alarm.Folded(); }

// Whether the sentence of the alarm says already what the place would say of itself.
bool Says(const Alarm& alarm, const CaveRow& cave, const CaveNews& news) {
  const bool here = alarm.cave == cave.id, around = alarm.cave == cave.inside;
  if (!IsTold(alarm) || (!here && !around)) return false;
  if (news.state == CaveState::kUnknown) return (here && Blinds(alarm.kind)) || alarm.kind == AlarmKind::kPowerGone;
  // Warmth and cold reach into what stands inside, and make the air dry or damp.
  if (rules::IsOfWarmth(alarm.kind)) return news.of_air || alarm.severity >= rules::Severity::kAct;
  if (alarm.kind == KindOf(news.of_air, news.side)) return here;
  return IsCauseOf(alarm.kind, news.of_air);
}

bool KeepsBand(const ChannelView& channel) {
  return channel.state == CaveState::kInBand || channel.state == CaveState::kNotWatched;
}

std::optional<CaveNews> NewsOf(const ApiContext& context, const std::vector<Alarm>& alarms, const CaveRow& cave) {
  const rules::CaveView view = context.watch.View(cave.id);
  const ChannelView* worst = WorstOf(context, cave, view);
  if (!worst) return std::nullopt;
  CaveNews news{cave.name, worst->state, worst->kind == rules::ChannelKind::kTemperature, worst->side, {}, {}};
  if (news.state == CaveState::kUnknown) {
    const Unknown unknown = WhyUnknown(context, cave, *worst);
    news.since = unknown.since;
    news.why = unknown.why;
  }
  // Nor does a place keep its band whose borrowed air does not.
  if (news.state == CaveState::kInBand && !KeepsBand(view.temperature)) return std::nullopt;
  const bool told = std::ranges::any_of(alarms, [&](const Alarm& alarm) {
    // Air of which an alarm stands does not keep its band, whatever it is at this moment.
    if (news.state == CaveState::kInBand)
      return alarm.cave == cave.id && !alarm.over && alarm.severity >= rules::Severity::kWatch && IsOfAir(alarm.kind);
    return Says(alarm, cave, news);
  });
  return told ? std::nullopt : std::optional(news);
}

// Of those that lie in it, not in a box inside: what stands around a box is told by the box.
std::vector<const WheelRow*> CameNotToSuit(const ApiContext& context, const CaveRow& cave) {
  const Book& book = context.book();
  const std::vector<rules::WheelId> unsuited = context.watch.View(cave.id).does_not_suit;
  std::vector<const WheelRow*> wheels;
  if (unsuited.empty()) return wheels;
  const std::vector<rules::WheelId>& before = context.bands->UnsuitedAtTurn(book, cave, context.now());
  for (const rules::WheelId id : unsuited) {
    const WheelRow* wheel = book.Wheel(id);
    const bool is_new = wheel != nullptr && std::ranges::count(before, id) == 0;
    if (!is_new || book.PlaceOf(*wheel).cave != cave.id) continue;
    // Finished cheese is kept cold, whatever its plan once asked for.
    if (cave.watching_now.ready_cheese && IsReady(context, *wheel)) continue;
    wheels.push_back(wheel);
  }
  return wheels;
}

// "2 bloomies; 1 tomme, A3"; empty: it suits all, or did not suit them yesterday already.
std::string UnsuitedWords(const ApiContext& context, const CaveRow& cave) {
  std::map<std::pair<std::string, std::string>, int> counts;  // by place and family
  for (const WheelRow* wheel : CameNotToSuit(context, cave)) {
    const std::string place = PlaceName(context.book(), context.book().PlaceOf(*wheel));
    ++counts[{place == cave.name ? std::string{} : place, context.book().FamilyOf(*wheel)}];
  }
  std::string text;
  for (const auto& [where, count] : counts) {
    const auto& [place, family] = where;
    text += (text.empty() ? "" : "; ") + std::to_string(count) + " " + KinWord(context.words, family, count);
    if (!place.empty()) text += ", " + place;
  }
  return text;
}

}  // namespace

bool HasOwnProbe(const rules::CaveView& view) {
  return view.humidity.watched || (view.temperature.watched && !view.temperature.borrowed);
}

std::optional<rules::Instant> OutBy(const ApiContext& context, const CaveRow& cave, const ChannelView& channel) {
  if (channel.state != CaveState::kDrifting) return std::nullopt;
  const auto leaves = rules::LeavesAt(context.watch.Engine(), cave.id, channel.kind, context.now());
  if (!leaves) return std::nullopt;
  return rules::Instant{
      std::chrono::ceil<std::chrono::duration<rules::Millis::rep, std::ratio<1800>>>(leaves->time_since_epoch())};
}

std::vector<CaveNews> NewsOfCaves(const ApiContext& context) {
  const std::vector<Alarm> alarms = context.watch.Engine().Alarms();
  std::vector<CaveNews> news;
  for (const CaveRow* cave : context.book().Caves()) {
    if (const auto told = NewsOf(context, alarms, *cave)) news.push_back(*told);
  }
  for (const CaveRow* cave : context.book().Caves()) {
    CaveNews of_wheels{cave->name};
    of_wheels.unsuited = UnsuitedWords(context, *cave);
    if (!of_wheels.unsuited.empty()) news.push_back(std::move(of_wheels));
  }
  return news;
}

bool IsCalled(const ApiContext& context, const CaveRow& cave, bool of_air, int side) {
  const std::vector<Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const Alarm& alarm) {
    const bool reaches = alarm.cave == cave.id || (of_air && alarm.cave == cave.inside);
    return !alarm.over && reaches && alarm.kind == KindOf(of_air, side);
  });
}

bool HasAirBack(const ApiContext& context, const CaveRow& cave) {
  const std::vector<Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const Alarm& alarm) {
    return alarm.cave == cave.id && rules::IsOfBand(alarm.kind) && IsBackInBand(context, alarm);
  });
}

namespace {

bool IsAnyGas(const ApiContext& context) {
  const std::vector<Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [](const Alarm& alarm) { return rules::IsGas(alarm.kind) && !alarm.over; });
}

}  // namespace

std::vector<Sentence> CavesSentences(const ApiContext& context) {
  const Words& words = context.words;
  // People first: where gas stands nothing is said of how well the bands are kept.
  std::vector<Sentence> said;
  if (IsAnyGas(context)) said = AlarmSentences(context);
  if (!said.empty()) return said;
  const std::vector<CaveNews> news = NewsOfCaves(context);
  // That wheels want another air is said besides: it is not how the place stands.
  std::vector<CaveNews> standing, unsuited;
  std::ranges::partition_copy(news, std::back_inserter(unsuited), std::back_inserter(standing),
                              [](const CaveNews& one) { return !one.unsuited.empty(); });
  for (std::string& sentence : CaveSentences(words, standing)) said.push_back({std::move(sentence)});
  if (std::string kept = KeptSentence(words, news); !kept.empty()) said.push_back({std::move(kept)});
  if (said.empty()) said = AlarmSentences(context);
  if (said.empty()) said = SmallSentences(context);
  if (said.empty()) said.push_back({words.Say("caves.none watched")});
  for (std::string& sentence : CaveSentences(words, unsuited)) said.push_back({std::move(sentence)});
  return said;
}

}  // namespace rindwatch
