#include "rules/care/deeds.hpp"

#include <algorithm>
#include <tuple>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

bool Contains(const std::vector<CareKind>& kinds, CareKind kind) {
  return std::ranges::find(kinds, kind) != kinds.end();
}

void AddOnce(std::vector<CareKind>& kinds, CareKind kind) {
  if (!Contains(kinds, kind)) kinds.push_back(kind);
}

// Acts ascend, so most fall on the same day as the one before.
class DayFinder {
 public:
  explicit DayFinder(const DayTurn& turn) : turn_(turn) {}
  Date DayOf(Instant at) {
    if (at < start_ || at >= end_) {
      day_ = turn_.DayOf(at);
      start_ = turn_.StartOf(day_);
      end_ = turn_.EndOf(day_);
    }
    return day_;
  }

 private:
  const DayTurn& turn_;
  Date day_{};
  Instant start_{}, end_{};
};

// A doing of the wash is also a doing of the turn, one level deep: what is brought brings nothing. What the same act
// skips with a reason it did not bring.
std::vector<CareKind> WithBrought(const std::vector<CareKind>& done, const std::vector<CareKind>& skipped,
                                  const Segment* stage) {
  std::vector<CareKind> all;
  for (const CareKind kind : done) AddOnce(all, kind);
  if (!stage) return all;
  for (const Care& care : stage->stage->cares) {
    if (care.brings.empty()) continue;
    const bool leads = std::ranges::any_of(care.kinds, [&](CareKind kind) { return Contains(done, kind); });
    if (!leads) continue;
    for (const CareKind kind : care.brings) {
      if (!Contains(skipped, kind)) AddOnce(all, kind);
    }
  }
  return all;
}

void SortInOrder(std::vector<Deed>& deeds) {
  std::ranges::stable_sort(deeds, [](const Deed& a, const Deed& b) {
    return std::tuple{a.at, !a.skip, std::string_view{a.act->id}} <
           std::tuple{b.at, !b.skip, std::string_view{b.act->id}};
  });
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
  for (const AgreedCare* care : known.agreed) agreed.push_back({care, turn.DayOf(care->at), std::nullopt});
  std::ranges::stable_sort(agreed, {}, [](const AgreedDeed& asked) { return asked.care->day; });
  if (agreed.empty()) return agreed;
  for (const Deed& deed : deeds) Settle(agreed, deed);
  return agreed;
}

// The doing of a care that stands for a pending one counts for both.
void CountForBoth(Deeds& deeds, const Timeline& timeline) {
  std::vector<Deed> both;
  for (const AgreedDeed& agreed : deeds.agreed) {
    if (!agreed.care->stands_for || !agreed.settled_by || agreed.settled_by->skip) continue;
    const Deed& doing = *agreed.settled_by;
    for (const CareKind kind :
         WithBrought({*agreed.care->stands_for}, doing.act->skipped, timeline.StageOfActs(doing.day))) {
      if (!Contains(doing.act->done, kind)) both.push_back({doing.at, doing.day, kind, false, doing.act});
    }
  }
  if (both.empty()) return;
  deeds.list.insert(deeds.list.end(), both.begin(), both.end());
  SortInOrder(deeds.list);
}

}  // namespace

Deeds DeedsOf(const Known& known, const Timeline& timeline, const DayTurn& turn) {
  Deeds deeds;
  deeds.list.reserve(2 * known.acts.size());
  DayFinder finder(turn);
  for (const CareAct* act : known.acts) {
    const Date day = finder.DayOf(act->at);
    for (const CareKind kind : act->skipped) deeds.list.push_back({act->at, day, kind, true, act});
    for (const CareKind kind : WithBrought(act->done, act->skipped, timeline.StageOfActs(day))) {
      deeds.list.push_back({act->at, day, kind, false, act});
    }
  }
  SortInOrder(deeds.list);
  deeds.agreed = AgreedDeeds(known, deeds.list, turn);
  CountForBoth(deeds, timeline);
  return deeds;
}

}  // namespace rindwatch::rules
