#include "rules/care/items.hpp"

#include <algorithm>

#include "rules/care/cadence.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

// What comes only together is never asked by itself; done alone it is shown, once a day and kind.
Verdict JudgeOnlyTogether(const Ground& ground, KindSet kinds, const Moment& moment) {
  Verdict verdict;
  for (auto deed = ground.DeedsFrom(moment.day); deed != ground.deeds.list.end() && deed->day == moment.day; ++deed) {
    if (!kinds.Has(deed->kind)) continue;
    const bool again = std::ranges::any_of(verdict.settled, [&](const Settlement& before) {
      return before.deed.kind == deed->kind && before.deed.skip == deed->skip;
    });
    if (!again) verdict.settled.push_back({*deed, moment.day, moment.day, 0, false});
  }
  return verdict;
}

std::size_t PlaceOfDeedsFrom(const Ground& ground, Date day) {
  return static_cast<std::size_t>(ground.DeedsFrom(day) - ground.deeds.list.begin());
}

}  // namespace

bool Item::Brings(CareKind kind) const { return brings != nullptr && Contains(*brings, kind); }

StageCount::StageCount(const Ground& ground, std::size_t index) : ground_(ground) {
  const std::vector<Care>& cares = ground.timeline.Segments()[index].stage->cares;
  rows_.reserve(2 * cares.size());
  for (const Care& care : cares) AddRow(index, care);
  if (!once_kinds_.Empty()) {
    once_.emplace(ground, index);
    next_once_ = PlaceOfDeedsFrom(ground, once_->First());
  }
  AddBroughtAlone();
}

void StageCount::AddRow(std::size_t index, const Care& care) {
  Row row;
  row.care = &care;
  row.kinds = KindSet{care.kinds};
  if (care.kinds.empty()) {
    // The reader refuses such a care; nothing of it is asked.
  } else if (std::holds_alternative<OnceOnDay>(care.cadence)) {
    row.count = InOnceCount{};
    once_kinds_ = once_kinds_.With(row.kinds);
  } else if (!std::holds_alternative<OnlyTogether>(care.cadence)) {
    Run run = RunOf(ground_, index, care);
    row.next = PlaceOfDeedsFrom(ground_, run.acts_from);
    if (CountsDays(care.cadence)) {
      row.count.emplace<DayCount>(ground_, std::move(run));
    } else {
      row.count.emplace<HourCount>(ground_, std::move(run));
    }
  }
  rows_.push_back(std::move(row));
}

// A kind that the plan names only where another care brings it.
void StageCount::AddBroughtAlone() {
  const std::size_t cares = rows_.size();
  KindSet named;
  for (const Row& row : rows_) named = named.With(row.kinds);
  for (std::size_t i = 0; i < cares; ++i) {
    const Care* care = rows_[i].care;
    for (const CareKind kind : care->brings) {
      if (named.Has(kind)) continue;
      named.Add(kind);
      Row row;
      row.care = care;
      row.kinds = {kind};
      row.named = false;
      rows_.push_back(std::move(row));
    }
  }
}

template <typename Count>
void StageCount::TakeDeeds(Count& count, KindSet kinds, std::size_t& next, Instant until) const {
  const std::vector<Deed>& deeds = ground_.deeds.list;
  for (; next < deeds.size() && deeds[next].at <= until; ++next) {
    if (kinds.Has(deeds[next].kind)) count.Take(deeds[next]);
  }
}

Verdict StageCount::VerdictOf(Row& row, std::size_t place, const Moment& moment) {
  if (auto* by_days = std::get_if<DayCount>(&row.count)) {
    TakeDeeds(*by_days, row.kinds, row.next, moment.deeds_until);
    return by_days->At(moment);
  }
  if (auto* by_hours = std::get_if<HourCount>(&row.count)) {
    TakeDeeds(*by_hours, row.kinds, row.next, moment.deeds_until);
    return by_hours->At(moment);
  }
  if (std::holds_alternative<InOnceCount>(row.count)) return once_->At(place, moment);
  return JudgeOnlyTogether(ground_, row.kinds, moment);
}

std::vector<Item> StageCount::At(const Moment& moment) {
  if (once_) TakeDeeds(*once_, once_kinds_, next_once_, moment.deeds_until);
  std::vector<Item> items;
  items.reserve(rows_.size());
  for (std::size_t place = 0; place < rows_.size(); ++place) {
    Row& row = rows_[place];
    Item& item = items.emplace_back();
    item.care = row.care;
    item.kinds = row.kinds;
    if (row.named && !row.care->brings.empty()) item.brings = &row.care->brings;
    item.verdict = VerdictOf(row, place, moment);
  }
  return items;
}

std::vector<Item> ItemsOf(const Ground& ground, std::size_t index, const Moment& moment) {
  return StageCount(ground, index).At(moment);
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
      if (other.kinds.Has(agreed.care->kind) && !item.brings) item.brings = other.brings;
    }
    items.push_back(std::move(item));
  }
  return items;
}

KindSet WaitingKinds(const std::vector<Item>& items) {
  KindSet waiting;
  for (const Item& item : items) {
    if (item.verdict.pending) waiting = waiting.With(item.kinds);
  }
  return waiting;
}

}  // namespace rindwatch::rules
