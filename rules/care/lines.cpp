#include "rules/care/lines.hpp"

#include <algorithm>

namespace rindwatch::rules {
namespace {

CareLine LineOf(const Settlement& settlement, const Item& item) {
  const Deed& deed = settlement.deed;
  CareLine line;
  line.kinds = {deed.kind};
  line.state = deed.skip ? CareState::kSkipped : CareState::kDone;
  (deed.skip ? line.skipped_kinds : line.done_kinds) = line.kinds;
  line.opens = line.due = settlement.due;
  line.window_end = settlement.end;
  line.tolerance = settlement.tolerance;
  line.evening = settlement.evening;
  line.agreed = item.agreed;
  line.settled_at = deed.at;
  line.settled_by = deed.act->id;
  if (!deed.act->skipped.Empty()) line.reason = deed.act->reason.Text();
  line.care = item.agreed ? nullptr : item.care;
  return line;
}

// Brings the lines of one wheel together, in the plan's order.
class Weaver {
 public:
  Weaver(const Ground& ground, const std::vector<Item>& items)
      : ground_(ground), items_(items), threads_(items.size()) {}

  std::vector<CareLine> Weave() {
    for (const Item& item : items_) HideStoodFor(item);
    for (std::size_t i = 0; i < items_.size(); ++i) Lead(i);
    std::vector<CareLine> lines;
    lines.reserve(2 * items_.size());
    for (std::size_t i = 0; i < items_.size(); ++i) {
      const Item& item = items_[i];
      for (const Settlement& settlement : item.verdict.settled) {
        if (!IsShownElsewhere(item, settlement)) lines.push_back(SettledLine(item, settlement));
      }
      if (!item.verdict.pending || threads_[i].hidden) continue;
      lines.push_back(threads_[i].led ? std::move(*threads_[i].led) : NextLine(item));
    }
    return lines;
  }

 private:
  // What becomes of an item's pending care.
  struct Thread {
    bool hidden = false;          // in the line of another, or not asked
    std::optional<CareLine> led;  // with what it takes into its line
  };

  // While an agreed care is open, the care it stands for is not asked.
  void HideStoodFor(const Item& agreed) {
    if (!agreed.stands_for || !agreed.verdict.pending) return;
    for (std::size_t i = 0; i < items_.size(); ++i) {
      if (!items_[i].agreed && items_[i].kinds.Has(*agreed.stands_for)) threads_[i].hidden = true;
    }
  }

  // A care on the round takes the kinds it brings into its line; the first in the plan's order brings a kind.
  void Lead(std::size_t place) {
    const Item& item = items_[place];
    if (!item.brings || !item.verdict.pending || !item.verdict.pending->OnRound()) return;
    if (threads_[place].hidden) return;
    CareLine line = rules::LineOf(*item.verdict.pending, item);
    for (const CareKind kind : *item.brings) {
      if (brought_.Has(kind)) continue;
      brought_.Add(kind);
      TakeIn(kind, line);
    }
    threads_[place].led = std::move(line);
  }

  void TakeIn(CareKind kind, CareLine& line) {
    line.kinds.push_back(kind);
    bool asked = false;
    for (std::size_t i = 0; i < items_.size(); ++i) {
      const std::optional<Pending>& pending = items_[i].verdict.pending;
      if (items_[i].agreed || !pending || pending->kind != kind || threads_[i].hidden) continue;
      threads_[i].hidden = true;
      if (!pending->OnRound()) continue;
      asked = true;
      line.state = std::max(line.state, pending->state);  // the worse
      line.due = std::min(line.due, pending->due);
      line.window_end = std::min(line.window_end, pending->end);
      line.away = line.away || pending->away;
    }
    if (line.state == CareState::kLate) line.late_since = line.due;
    if (asked) return;
    shown_.Add(kind);
    ShowDonePart(kind, line);
  }

  // Done in part without a reason: the wash stays on the round, its turn shown as done.
  void ShowDonePart(CareKind kind, CareLine& line) const {
    const Deed* part = nullptr;
    for (auto deed = ground_.DeedsFrom(ground_.today); deed != ground_.deeds.list.end(); ++deed) {
      if (deed->kind == kind && (!part || part->skip || !deed->skip)) part = &*deed;
    }
    if (!part) return;
    (part->skip ? line.skipped_kinds : line.done_kinds).push_back(kind);
    line.settled_at = part->at;
    line.settled_by = part->act->id;
    if (part->skip) line.reason = part->act->reason.Text();
  }

  // A doing of the wash shows its turn in its own line, and what is taken in by an open line is shown there.
  bool IsShownElsewhere(const Item& item, const Settlement& settlement) const {
    if (item.agreed) return false;
    if (shown_.Has(settlement.deed.kind)) return true;
    return std::ranges::any_of(items_, [&](const Item& other) {
      return &other != &item && other.Brings(settlement.deed.kind) &&
             std::ranges::any_of(other.verdict.settled, [&](const Settlement& leading) {
               return leading.deed.act == settlement.deed.act && Shows(leading, settlement.deed.kind);
             });
    });
  }

  // A doing shows all that it brings, a skip what its act names.
  static bool Shows(const Settlement& leading, CareKind brought) {
    const CareAct& act = *leading.deed.act;
    return !leading.deed.skip || act.done.Has(brought) || act.skipped.Has(brought);
  }

  static CareLine SettledLine(const Item& item, const Settlement& settlement) {
    CareLine line = LineOf(settlement, item);
    if (!item.brings) return line;
    const CareAct& act = *settlement.deed.act;
    for (const CareKind kind : *item.brings) {
      if (!Shows(settlement, kind)) continue;
      line.kinds.push_back(kind);
      (act.skipped.Has(kind) ? line.skipped_kinds : line.done_kinds).push_back(kind);
    }
    return line;
  }

  static CareLine NextLine(const Item& item) {
    CareLine line = rules::LineOf(*item.verdict.pending, item);
    if (item.brings && !line.OnRound()) line.kinds.insert(line.kinds.end(), item.brings->begin(), item.brings->end());
    return line;
  }

  const Ground& ground_;
  const std::vector<Item>& items_;
  std::vector<Thread> threads_;  // of each item
  KindSet brought_;              // each by one line only
  KindSet shown_;                // done or skipped today inside the line that brings them
};

}  // namespace

CareLine LineOf(const Pending& pending, const Item& item) {
  CareLine line;
  line.kinds = {pending.kind};
  line.state = pending.state;
  line.opens = pending.opens;
  line.due = pending.due;
  line.window_end = pending.end;
  line.tolerance = pending.tolerance;
  if (pending.state == CareState::kLate) line.late_since = pending.due;
  line.away = pending.away;
  line.evening = pending.evening;
  line.not_before = pending.not_before;
  line.agreed = item.agreed;
  line.care = item.agreed ? nullptr : item.care;
  return line;
}

std::vector<CareLine> LinesOf(const Ground& ground, const std::vector<Item>& items) {
  return Weaver(ground, items).Weave();
}

}  // namespace rindwatch::rules
