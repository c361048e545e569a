#include "tests/rules/care/model_life.hpp"

#include <algorithm>
#include <map>

namespace rindwatch::rules::testing {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr days kBefore{3}, kAfter{260};

// Undone: named by an undo that is known and not itself undone.
bool IsUndone(const WheelHistory& wheel, const ActId& id, Instant asked, int depth = 0) {
  return depth < 20 && std::ranges::any_of(wheel.undos, [&](const UndoAct& undo) {
           return undo.of == id && undo.at <= asked && !IsUndone(wheel, undo.id, asked, depth + 1);
         });
}

// The known ones, each id once, in the order of when they were told.
template <typename Line, typename When>
std::vector<Line> KnownOf(const WheelHistory& wheel, const std::vector<Line>& all, Instant asked, When when) {
  std::vector<Line> known;
  for (const Line& line : all) {
    const bool twice = std::ranges::any_of(known, [&](const Line& other) { return other.id == line.id; });
    if (when(line) <= asked && !twice && !IsUndone(wheel, line.id, asked)) known.push_back(line);
  }
  std::ranges::sort(known,
                    [&](const Line& a, const Line& b) { return when(a) != when(b) ? when(a) < when(b) : a.id < b.id; });
  return known;
}

}  // namespace

std::vector<const Stage*> RoadOf(const Part& part, const std::string& option) {
  std::vector<const Stage*> road;
  for (const Stage& stage : part.stages) road.push_back(&stage);
  if (!part.branch) return road;
  for (const BranchOption& one : part.branch->options) {
    if (one.name != option) continue;
    for (const Stage& stage : one.stages) road.push_back(&stage);
  }
  return road;
}

ModelLife::ModelLife(const WheelHistory& wheel, const CareCalendar& calendar, Instant at)
    : asked(at), care_days(calendar.care_days), calendar_(calendar) {
  today = DayOf(asked);
  entry = DayOf(wheel.entered);
  plans_.push_back(wheel.plans.front());
  for (const PlanFrom& plan : wheel.plans) {
    if (plan.from <= asked && plan != plans_.front()) plans_.push_back(plan);
  }
  starts_ = KnownOf(wheel, wheel.starts, asked, [](const StartEvent& start) { return start.known_from; });
  answers_ = KnownOf(wheel, wheel.branches, asked, [](const BranchAnswer& answer) { return answer.at; });
  for (const AgreedCare& one : KnownOf(wheel, wheel.agreed, asked, [](const AgreedCare& line) { return line.at; })) {
    agreed.push_back({one, std::nullopt});
  }
  acts_ = KnownOf(wheel, wheel.acts, asked, [](const CareAct& act) { return std::max(act.at, act.known_from); });
  LayOutDays();
  ListDeeds();
  SettleAgreed();
  MarkRepeats();
}

// The first instant at which the clock on the wall shows the hour of the turn, or a later time where it skips it. Only
// just then, or at a change of the clock, can that be.
Instant ModelLife::BeginningOf(Date date) const {
  const Zone& zone = calendar_.turn.zone;
  const LocalTime local = LocalTime{date} + hours{calendar_.turn.hour};
  std::vector<Instant> candidates{Instant{local.time_since_epoch() - zone.FirstOffset()}};
  for (const Zone::Transition& change : zone.Transitions()) {
    candidates.push_back(change.from);
    candidates.push_back(Instant{local.time_since_epoch() - change.offset});
  }
  Instant first = Instant::max();
  for (const Instant candidate : candidates) {
    if (zone.ToLocal(candidate) >= local) first = std::min(first, candidate);
  }
  return first;
}

Date ModelLife::DayOf(Instant at) const {
  Date date = std::chrono::floor<days>(LocalTime{at.time_since_epoch()}) + days{2};
  while (BeginningOf(date) > at) date -= days{1};
  return date;
}

void ModelLife::LayOutDays() {
  Date first = std::min(today, entry);
  for (const StartEvent& start : starts_) first = std::min(first, start.day);
  for (const CareAct& act : acts_) first = std::min(first, DayOf(act.at));
  for (Date date = first - kBefore; date <= std::max(today, entry) + kAfter; date += days{1}) {
    ModelDay day;
    day.date = date;
    day.begins = BeginningOf(date);
    day.ends = BeginningOf(date + days{1});
    day.away = std::ranges::count(calendar_.away, date) > 0;
    day.returns = !day.away && std::ranges::count(calendar_.away, date - days{1}) > 0;
    FindStage(day);
    dates.push_back(day);
  }
}

void ModelLife::FindStage(ModelDay& day) const {
  day.given = &plans_.front();
  for (const PlanFrom& plan : plans_) {
    if (&plan != &plans_.front() && DayOf(plan.from) <= day.date) day.given = &plan;
  }
  const std::vector<Part>& parts = day.given->plan->parts;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    // The first yes counts.
    const auto yes = std::ranges::find(starts_, parts[i].start, &StartEvent::kind);
    if (yes == starts_.end() || yes->day > day.date) continue;
    day.part = static_cast<int>(i);
    day.part_start = yes->day;
  }
  if (day.part < 0) return;
  const Part& part = parts[static_cast<std::size_t>(day.part)];
  if (part.branch) {
    day.option = part.branch->default_option;
    for (const BranchAnswer& answer : answers_) {
      const bool fits = std::ranges::count(part.branch->options, answer.option, &BranchOption::name) > 0;
      if (!fits || DayOf(answer.at) > day.date || DayOf(answer.at) < day.part_start) continue;
      day.option = answer.option;
      day.answered = true;
    }
  }
  const int n = static_cast<int>((day.date - day.part_start).count());
  for (const Stage* stage : RoadOf(part, day.option)) {
    if (n >= stage->first_day) day.stage = stage;  // the last one goes on
  }
  day.day_zero = day.stage == nullptr;
}

bool ModelLife::IsAnswered(StartKind kind) const { return std::ranges::count(starts_, kind, &StartEvent::kind) > 0; }

Date ModelLife::PastDayZero(Date date) const {
  while (date <= dates.back().date && On(date).day_zero) date += days{1};
  return date;
}

const Care* ModelLife::SameCareOn(Date date, const Care& care) const {
  const ModelDay& day = On(date);
  if (!day.stage) return nullptr;
  for (const Care& other : day.stage->cares) {
    if (other.kinds == care.kinds && other.cadence == care.cadence) return &other;
  }
  return nullptr;
}

Date ModelLife::RunBegins(Date date, const Care& care) const {
  Date first = date;
  for (Date day = date; day >= dates.front().date; day -= days{1}) {
    if (On(day).day_zero) continue;
    if (!SameCareOn(day, care)) break;
    first = day;
  }
  return first;
}

Date ModelLife::ActsBegin(Date first) const {
  Date day = first;
  while (On(day - days{1}).day_zero) day -= days{1};
  return StageOfActs(day) == On(first).stage ? day : first;
}

Date ModelLife::RunEnds(Date date, const Care& care) const {
  Date last = date;
  for (Date day = date; day <= dates.back().date; day += days{1}) {
    if (On(day).day_zero) continue;
    if (!SameCareOn(day, care)) return last;
    last = day;
  }
  return Date::max();
}

Date ModelLife::EndOf(Date counted, int tolerance) const {
  const Date end = counted + std::chrono::days{tolerance};
  return counted == entry ? std::max(end, entry + days{1}) : end;
}

const Stage* ModelLife::StageOfActs(Date date) const {
  if (!On(date).day_zero) return On(date).stage;
  for (Date day = date; day >= dates.front().date; day -= days{1}) {
    if (On(day).stage) return On(day).stage;
  }
  // At the first part its first stage.
  return On(PastDayZero(date)).stage;
}

void ModelLife::ListDeeds() {
  for (const CareAct& act : acts_) {
    const Date day = DayOf(act.at);
    for (const CareKind kind : act.skipped) deeds.push_back({act.id, act.at, day, kind, true});
    for (const CareKind kind : act.done) deeds.push_back({act.id, act.at, day, kind});
    for (const CareKind kind : BroughtOn(day, act.done).Without(act.done).Without(act.skipped)) {
      deeds.push_back({act.id, act.at, day, kind});
    }
  }
  SortDeeds();
}

KindSet ModelLife::BroughtOn(Date day, KindSet done) const {
  KindSet brought;
  const Stage* stage = StageOfActs(day);
  if (!stage) return brought;
  for (const Care& care : stage->cares) {
    if (done.HasAnyOf(KindSet{care.kinds})) brought = brought.With(KindSet{care.brings});
  }
  return brought;
}

void ModelLife::SortDeeds() {
  std::ranges::stable_sort(deeds, [](const ModelDeed& a, const ModelDeed& b) {
    if (a.at != b.at) return a.at < b.at;
    if (a.skip != b.skip) return a.skip;
    return a.id < b.id;
  });
}

// From the day before the agreed one on a doing or skip of its kind settles it; of two the earlier asked for. The doing
// counts for both, with what it brings.
void ModelLife::SettleAgreed() {
  std::ranges::stable_sort(agreed,
                           [](const ModelAgreed& a, const ModelAgreed& b) { return a.asked.day < b.asked.day; });
  for (const ModelDeed& deed : deeds) {
    for (ModelAgreed& one : agreed) {
      if (deed.kind != one.asked.kind || deed.at < one.asked.at || deed.day + days{1} < one.asked.day) continue;
      const bool replaces = one.settled && one.settled->skip && !deed.skip && one.settled->day == deed.day;
      if (one.settled && !replaces) continue;
      one.settled = deed;
      break;
    }
  }
  for (const ModelAgreed& one : agreed) {
    if (!one.asked.stands_for || !one.settled || one.settled->skip) continue;
    KindSet own, skipped;
    for (const CareAct& act : acts_) {
      if (act.id != one.settled->id) continue;
      own = act.done;
      skipped = act.skipped;
    }
    const KindSet stood_for{*one.asked.stands_for};
    for (const CareKind kind : stood_for.With(BroughtOn(one.settled->day, stood_for).Without(skipped)).Without(own)) {
      deeds.push_back({one.settled->id, one.settled->at, one.settled->day, kind});
    }
  }
  SortDeeds();
}

// The doings that are no last doing: a second one on a day; of a morning-and-evening care one less than six hours
// after the last that counted.
void ModelLife::MarkRepeats() {
  std::map<CareKind, ModelDeed> last;  // that counted
  for (ModelDeed& deed : deeds) {
    bool by_hours = false;
    if (const Stage* stage = StageOfActs(deed.day)) {
      for (const Care& care : stage->cares) {
        by_hours |= std::holds_alternative<MorningAndEvening>(care.cadence) && care.kinds.front() == deed.kind;
      }
    }
    const auto before = last.find(deed.kind);
    if (by_hours) {
      if (before != last.end() && deed.at < before->second.at + hours{6}) {
        deed.replaces = before->second.skip && !deed.skip;
        deed.repeat = !deed.replaces;
      }
    } else if (deed.skip) {
      continue;  // whether it is a repeat is a matter of the care
    } else {
      deed.repeat = before != last.end() && !before->second.skip && before->second.day == deed.day;
    }
    if (!deed.repeat) last[deed.kind] = deed;
  }
}

}  // namespace rindwatch::rules::testing
