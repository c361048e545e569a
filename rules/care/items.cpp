#include <algorithm>

#include "rules/care/cadence.hpp"
#include "rules/care/lines.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

// What comes only together is never asked by itself; done alone it is shown, once a day and kind.
Verdict JudgeOnlyTogether(const Ground& ground, const std::vector<CareKind>& kinds, const Moment& moment) {
  Verdict verdict;
  for (auto deed = ground.DeedsFrom(moment.day); deed != ground.deeds.list.end() && deed->day == moment.day; ++deed) {
    if (!Contains(kinds, deed->kind)) continue;
    const bool again = std::ranges::any_of(verdict.settled, [&](const Settlement& before) {
      return before.deed.kind == deed->kind && before.deed.skip == deed->skip;
    });
    if (!again) verdict.settled.push_back({*deed, moment.day, moment.day, 0, false});
  }
  return verdict;
}

Verdict Judge(const Ground& ground, std::size_t index, const Care& care, const Moment& moment) {
  if (std::holds_alternative<OnlyTogether>(care.cadence)) return JudgeOnlyTogether(ground, care.kinds, moment);
  const Run run = RunOf(ground, index, care);
  return CountsDays(care.cadence) ? JudgeByDays(ground, run, moment) : JudgeTwiceADay(ground, run, moment);
}

// A kind that the plan names only where another care brings it.
void AddBroughtAlone(const Ground& ground, const Moment& moment, std::vector<Item>& items) {
  const std::size_t cares = items.size();
  for (std::size_t i = 0; i < cares; ++i) {
    for (const CareKind kind : items[i].care->brings) {
      const bool known = std::ranges::any_of(items, [&](const Item& item) { return Contains(item.kinds, kind); });
      if (known) continue;
      Item item;
      item.care = items[i].care;
      item.kinds = {kind};
      item.verdict = JudgeOnlyTogether(ground, item.kinds, moment);
      items.push_back(std::move(item));
    }
  }
}

}  // namespace

std::vector<Item> ItemsOf(const Ground& ground, std::size_t index, const Moment& moment) {
  const std::vector<Care>& cares = ground.timeline.Segments()[index].stage->cares;
  std::vector<std::optional<Verdict>> once = JudgeOnce(ground, index, moment);
  std::vector<Item> items;
  for (std::size_t place = 0; place < cares.size(); ++place) {
    const Care& care = cares[place];
    if (care.kinds.empty()) continue;
    Item item;
    item.care = &care;
    item.kinds = care.kinds;
    item.brings = care.brings;
    item.verdict = once[place] ? std::move(*once[place]) : Judge(ground, index, care, moment);
    items.push_back(std::move(item));
  }
  AddBroughtAlone(ground, moment, items);
  return items;
}

std::vector<Item> AgreedItems(const Ground& ground, const std::vector<Item>& stage) {
  std::vector<Item> items;
  for (const AgreedDeed& agreed : ground.deeds.agreed) {
    Item item;
    item.agreed = true;
    item.kinds = {agreed.care->kind};
    item.stands_for = agreed.care->stands_for;
    item.verdict = JudgeAgreed(ground, agreed);
    if (!item.verdict.pending && item.verdict.settled.empty()) continue;
    // It brings what a care of its kind brings in this stage.
    for (const Item& other : stage) {
      if (Contains(other.kinds, agreed.care->kind) && item.brings.empty()) item.brings = other.brings;
    }
    items.push_back(std::move(item));
  }
  return items;
}

}  // namespace rindwatch::rules
