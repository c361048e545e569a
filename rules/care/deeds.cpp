#include "rules/care/deeds.hpp"

#include <algorithm>
#include <tuple>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// A doing of the wash is also a doing of the turn, one level deep: what is brought brings nothing.
KindSet BroughtBy(KindSet done, const Segment* stage) {
  KindSet brought;
  if (!stage) return brought;
  for (const Care& care : stage->stage->cares) {
    if (!care.brings.empty() && done.HasAnyOf(care.kinds)) brought = brought.With(care.brings);
  }
  return brought;
}

KindSet KindsByHours(const Segment* stage) {
  KindSet kinds;
  if (!stage) return kinds;
  for (const Care& care : stage->stage->cares) {
    if (std::holds_alternative<MorningAndEvening>(care.cadence)) kinds = kinds.With(care.kinds);
  }
  return kinds;
}

// What the act skips with a reason it did not bring.
void AddDeeds(const CareAct& act, Date day, const Segment* stage, std::vector<Deed>& list) {
  const KindSet by_hours = KindsByHours(stage);
  const auto add = [&](CareKind kind, bool skip) {
    list.push_back({act.at, day, kind, skip, by_hours.Has(kind), false, &act});
  };
  for (const CareKind kind : act.skipped) add(kind, true);
  for (const CareKind kind : act.done) add(kind, false);
  for (const CareKind kind : BroughtBy(act.done, stage).Without(act.done).Without(act.skipped)) add(kind, false);
}

void SortInOrder(std::vector<Deed>& deeds) {
  const auto before = [](const Deed& a, const Deed& b) {
    if (a.at != b.at) return a.at < b.at;
    if (a.skip != b.skip) return a.skip;
    return a.act->id < b.act->id;
  };
  if (!std::ranges::is_sorted(deeds, before)) std::ranges::stable_sort(deeds, before);
}

// A second doing of a kind on one day; of a care of morning and evening what comes before its rest is over, but for a
// doing that takes the place of a skip.
bool IsRepeat(const std::vector<Deed>& deeds, std::size_t place) {
  const Deed& deed = deeds[place];
  for (std::size_t i = place; i-- > 0;) {
    const Deed& before = deeds[i];
    if (before.day < deed.day - days{1}) return false;
    if (before.kind != deed.kind || before.repeat || (before.skip && !before.by_hours)) continue;
    if (deed.by_hours) return deed.at - before.at < kRest && (deed.skip || !before.skip);
    return !deed.skip && !before.skip && before.day == deed.day;
  }
  return false;
}

void MarkRepeats(std::vector<Deed>& deeds, std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to; ++i) deeds[i].repeat = IsRepeat(deeds, i);
}

// A once care for a date with a tolerance of one day: from the day before on, a doing or skip of its kind settles it.
bool CanSettle(const Deed& deed, const AgreedDeed& agreed) {
  return deed.kind == agreed.care->kind && deed.at >= agreed.care->at && deed.day >= agreed.care->day - days{1};
}

bool Replaces(const Deed& deed, const std::optional<Deed>& settled_by) {
  return settled_by && settled_by->skip && !deed.skip && settled_by->day == deed.day;
}

void Settle(std::vector<AgreedDeed>& agreed, const Deed& deed) {
  for (AgreedDeed& asked : agreed) {
    if (!CanSettle(deed, asked) || (asked.settled_by && !Replaces(deed, asked.settled_by))) continue;
    asked.settled_by = deed;
    return;
  }
}

std::vector<AgreedDeed> AgreedDeeds(const Known& known, const std::vector<Deed>& deeds, const DayTurn& turn) {
  std::vector<AgreedDeed> agreed;
  agreed.reserve(known.agreed.size());
  for (const AgreedCare* care : known.agreed) agreed.push_back({care, turn.DayOf(care->at), std::nullopt});
  std::ranges::stable_sort(agreed, {}, [](const AgreedDeed& asked) { return asked.care->day; });
  for (const Deed& deed : deeds) Settle(agreed, deed);
  return agreed;
}

// The doing of a care that stands for a pending one counts for both.
void CountForBoth(Deeds& deeds, const Timeline& timeline) {
  std::vector<Deed> both;
  for (const AgreedDeed& agreed : deeds.agreed) {
    if (!agreed.care->stands_for || !agreed.settled_by || agreed.settled_by->skip) continue;
    const Deed& doing = *agreed.settled_by;
    const KindSet stood_for{*agreed.care->stands_for};
    const Segment* stage = timeline.StageOfActs(doing.day);
    const KindSet brought = BroughtBy(stood_for, stage).Without(doing.act->skipped);
    const KindSet by_hours = KindsByHours(stage);
    for (const CareKind kind : stood_for.With(brought).Without(doing.act->done)) {
      both.push_back({doing.at, doing.day, kind, false, by_hours.Has(kind), false, doing.act});
    }
  }
  deeds.list.insert(deeds.list.end(), both.begin(), both.end());
  SortInOrder(deeds.list);
}

}  // namespace

Deeds DeedsOf(const Known& known, const Timeline& timeline, const DayTurn& turn) {
  Deeds deeds;
  deeds.list.reserve(2 * known.acts.size() + 8);
  DayFinder finder(turn);
  Date day{};
  const Segment* stage = nullptr;
  for (const CareAct* act : known.acts) {
    // Acts ascend: mostly the stage of the one before holds the next one too.
    const Date act_day = finder.DayOf(act->at);
    if (act_day != day && !(stage && stage->first <= act_day && act_day <= stage->last)) {
      stage = timeline.StageOfActs(act_day);
    }
    day = act_day;
    AddDeeds(*act, day, stage, deeds.list);
  }
  SortInOrder(deeds.list);
  if (!known.agreed.empty()) {
    deeds.agreed = AgreedDeeds(known, deeds.list, turn);
    CountForBoth(deeds, timeline);
  }
  MarkRepeats(deeds.list, 0, deeds.list.size());
  return deeds;
}

void AddAct(const CareAct& act, Date day, const Timeline& timeline, Deeds& deeds) {
  std::vector<Deed> own;
  AddDeeds(act, day, timeline.StageOfActs(day), own);
  const auto place = std::ranges::upper_bound(deeds.list, act.at, {}, &Deed::at);
  const auto from = static_cast<std::size_t>(place - deeds.list.begin());
  deeds.list.insert(place, own.begin(), own.end());
  MarkRepeats(deeds.list, from, from + own.size());
}

}  // namespace rindwatch::rules
