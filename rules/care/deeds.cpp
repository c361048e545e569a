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

// What the act skips with a reason it did not bring.
void AddDeeds(const CareAct& act, Date day, const Segment* stage, std::vector<Deed>& list) {
  for (const CareKind kind : act.skipped) list.push_back({act.at, day, kind, true, &act});
  for (const CareKind kind : act.done) list.push_back({act.at, day, kind, false, &act});
  const KindSet brought = BroughtBy(act.done, stage).Without(act.done).Without(act.skipped);
  for (const CareKind kind : brought) list.push_back({act.at, day, kind, false, &act});
}

void SortInOrder(std::vector<Deed>& deeds) {
  const auto before = [](const Deed& a, const Deed& b) {
    if (a.at != b.at) return a.at < b.at;
    if (a.skip != b.skip) return a.skip;
    return a.act->id < b.act->id;
  };
  if (!std::ranges::is_sorted(deeds, before)) std::ranges::stable_sort(deeds, before);
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
    const KindSet brought = BroughtBy(stood_for, timeline.StageOfActs(doing.day)).Without(doing.act->skipped);
    for (const CareKind kind : stood_for.With(brought).Without(doing.act->done)) {
      both.push_back({doing.at, doing.day, kind, false, doing.act});
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
  if (known.agreed.empty()) return deeds;
  deeds.agreed = AgreedDeeds(known, deeds.list, turn);
  CountForBoth(deeds, timeline);
  return deeds;
}

void AddAct(const CareAct& act, Date day, const Timeline& timeline, Deeds& deeds) {
  std::vector<Deed> own;
  AddDeeds(act, day, timeline.StageOfActs(day), own);
  const auto place = std::ranges::upper_bound(deeds.list, act.at, {}, &Deed::at);
  deeds.list.insert(place, own.begin(), own.end());
}

}  // namespace rindwatch::rules
