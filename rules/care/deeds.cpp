#include "rules/care/deeds.hpp"
#include "rules/plans/kinds.hpp"

#include <algorithm>
#include <bitset>
#include <tuple>
#include <utility>

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// Acts ascend, so each falls on the day of the one before or a few days on; a step costs less than a search.
class DayFinder {
 public:
  explicit DayFinder(const DayTurn& turn) : turn_(turn) {}

  Date DayOf(Instant at) {
    if (at < start_ || at - end_ >= days{8}) {
      day_ = turn_.DayOf(at);
      start_ = turn_.StartOf(day_);
      end_ = turn_.EndOf(day_);
    }
    while (at >= end_) {
      start_ = std::exchange(end_, turn_.EndOf(day_ + days{1}));
      day_ += days{1};
    }
    return day_;
  }

 private:
  const DayTurn& turn_;
  Date day_{};
  Instant start_ = Instant::max(), end_{};
};

// A doing of the wash is also a doing of the turn, one level deep: what is brought brings nothing. What the same act
// skips with a reason it did not bring.
class Doings {
 public:
  Doings(const CareAct& act, Date day, std::vector<Deed>& list) : act_(act), day_(day), list_(list) {}

  void Add(const std::vector<CareKind>& done, const Segment* stage) {
    for (const CareKind kind : done) AddOne(kind);
    if (!stage) return;
    for (const Care& care : stage->stage->cares) {
      const bool leads = ShareAny(care.kinds, done);
      for (std::size_t i = 0; leads && i < care.brings.size(); ++i) {
        if (!Contains(act_.skipped, care.brings[i])) AddOne(care.brings[i]);
      }
    }
  }
  // What the act did is not to be added again.
  void Leave(CareKind kind) { added_.set(static_cast<std::size_t>(kind)); }

 private:
  void AddOne(CareKind kind) {
    if (added_.test(static_cast<std::size_t>(kind))) return;
    Leave(kind);
    list_.push_back({act_.at, day_, kind, false, &act_});
  }

  const CareAct& act_;
  Date day_;
  std::vector<Deed>& list_;
  std::bitset<64> added_;
};

void SortInOrder(std::vector<Deed>& deeds) {
  const auto before = [](const Deed& a, const Deed& b) {
    return std::tuple{a.at, !a.skip, std::string_view{a.act->id}} <
           std::tuple{b.at, !b.skip, std::string_view{b.act->id}};
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
    Doings doings(*doing.act, doing.day, both);
    for (const CareKind kind : doing.act->done) doings.Leave(kind);
    doings.Add({*agreed.care->stands_for}, timeline.StageOfActs(doing.day));
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
    Doings(*act, day, deeds.list).Add(act->done, timeline.StageOfActs(day));
  }
  SortInOrder(deeds.list);
  deeds.agreed = AgreedDeeds(known, deeds.list, turn);
  CountForBoth(deeds, timeline);
  return deeds;
}

}  // namespace rindwatch::rules
