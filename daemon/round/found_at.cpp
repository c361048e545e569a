#include "daemon/round/found_at.hpp"

#include <algorithm>

#include "daemon/book/parts.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch {

namespace {

using rules::AgreedCare;

// The line's day may have been moved by an absence or to a care day: meant is what was agreed for the nearest day.
auto DaysFrom(const AgreedCare& agreed, const rules::CareLine& line) {
  return agreed.day < line.due ? line.due - agreed.day : agreed.day - line.due;
}

std::vector<const AgreedCare*> MeantBy(const Book& book, const WheelRow& wheel, const rules::CareLine& line) {
  std::vector<const AgreedCare*> meant;
  for (const AgreedCare& agreed : wheel.History().agreed) {
    if (!rules::Contains(line.kinds, agreed.kind) || book.IsUndone(ActOf(agreed.id), wheel.id)) continue;
    if (!meant.empty() && DaysFrom(agreed, line) > DaysFrom(*meant.front(), line)) continue;
    if (!meant.empty() && DaysFrom(agreed, line) < DaysFrom(*meant.front(), line)) meant.clear();
    meant.push_back(&agreed);
  }
  return meant;
}

bool IsAlike(const FaultSeen& a, const FaultSeen& b) {
  return a.what == b.what && a.place.cave == b.place.cave && a.place.shelf == b.place.shelf;
}

}  // namespace

std::vector<const FaultSeen*> FoundAt(const Book& book, const rules::RoundLine& line) {
  std::vector<const FaultSeen*> found;
  if (!line.care->agreed) return found;
  for (const rules::RoundWheel& one : line.wheels) {
    const WheelRow* wheel = book.Wheel(one.id);
    if (!wheel) continue;
    for (const AgreedCare* agreed : MeantBy(book, *wheel, *line.care)) {
      const FaultSeen* fault = book.FaultOf(agreed->id);
      if (!fault || (line.mark && rules::ToText(*line.mark) == fault->what)) continue;
      const bool told = std::ranges::any_of(found, [&](const FaultSeen* known) { return IsAlike(*known, *fault); });
      if (!told) found.push_back(fault);
    }
  }
  return found;
}

}  // namespace rindwatch
