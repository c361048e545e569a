#include "daemon/api/band_for.hpp"

#include <algorithm>
#include <map>

#include "daemon/api/views.hpp"
#include "daemon/api/wheel_air.hpp"
#include "daemon/api/within.hpp"
#include "daemon/words/kin_word.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

bool IsListed(const rules::Alarm& alarm) {
  if (alarm.Folded()) return false;
  return alarm.severity >= rules::Severity::kWatch || alarm.kind == rules::AlarmKind::kUnwatched;
}

namespace {

std::string WhoAsks(const ApiContext& context, const rules::Alarm& alarm) {
  const Book& book = context.book();
  std::map<std::string, int> asking;
  bool others = false;
  for (const WheelRow* wheel : book.Wheels()) {
    const auto lies = book.PlaceOf(*wheel).cave;
    if (!lies || !IsWithin(book, *lies, alarm.cave)) continue;
    const auto own = BandAt(book, *wheel, context.now());
    if (!own) continue;
    if (own->low <= alarm.band->low && own->high >= alarm.band->high)
      ++asking[book.FamilyOf(*wheel)];
    else
      others = true;
  }
  if (!others) return {};
  std::string text;
  for (const auto& [family, count] : asking)
    text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + KinWord(context.words, family, count);
  return text;
}

bool HasTwoBands(const std::vector<rules::Alarm>& alarms, const rules::Alarm& alarm) {
  if (!alarm.band || !rules::IsOfWarmth(alarm.kind)) return false;
  return std::ranges::any_of(alarms, [&](const rules::Alarm& other) {
    const bool beside = other.cave == alarm.cave && !other.over && IsListed(other) && rules::IsOfWarmth(other.kind);
    return beside && other.band && (other.band->low != alarm.band->low || other.band->high != alarm.band->high);
  });
}

}  // namespace

std::string BandFor(const ApiContext& context, const rules::Alarm& alarm) {
  return HasTwoBands(context.watch.Engine().Alarms(), alarm) ? WhoAsks(context, alarm) : std::string{};
}

}  // namespace rindwatch
