#include <algorithm>
#include <array>

#include "rules/plans/checks.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

bool Recurs(const Care& care) {
  return !std::holds_alternative<OnceOnDay>(care.cadence) && !std::holds_alternative<OnlyTogether>(care.cadence);
}

void CheckKinds(const Care& care, const std::string& field, Faults& faults) {
  if (care.kinds.empty() && faults.IsSound(FieldOf(field, "kinds"))) {
    faults.Add(FieldOf(field, "kinds"), "expected at least one kind, found none; name the work: [\"turn\"]");
  }
  for (std::size_t i = 0; i < care.kinds.size(); ++i) {
    const auto begin = care.kinds.begin();
    if (std::find(begin, begin + static_cast<std::ptrdiff_t>(i), care.kinds[i]) ==
        begin + static_cast<std::ptrdiff_t>(i))
      continue;
    faults.Add(FieldOf(field, "kinds", i),
               "expected each kind once, found " + Quoted(ToText(care.kinds[i])) + " again; remove it");
  }
  for (std::size_t i = 0; i < care.brings.size(); ++i) {
    if (!Contains(care.kinds, care.brings[i])) continue;
    faults.Add(FieldOf(field, "brings", i), "expected another kind than the care's own, found " +
                                                Quoted(ToText(care.brings[i])) + "; a care cannot bring itself");
  }
}

// The tolerance against the interval, as tolerance x times < days to stay in whole numbers.
bool IsShorter(int tolerance, const Cadence& cadence) {
  if (const auto* every = std::get_if<EveryDays>(&cadence)) return tolerance < every->days;
  if (const auto* weekly = std::get_if<TimesAWeek>(&cadence)) return tolerance < 7 && tolerance * weekly->times < 7;
  return std::holds_alternative<OnceOnDay>(cadence);
}

bool HasSoundCadence(const std::string& care, const Faults& faults) {
  constexpr std::array kKeys{"cadence", "every_days", "times_a_week", "once_on_day"};
  return std::ranges::all_of(kKeys, [&](const char* key) { return faults.IsSound(FieldOf(care, key)); });
}

void CheckTolerance(const Care& care, const std::string& field, Faults& faults) {
  const std::string tolerance = FieldOf(field, "tolerance");
  if (!care.tolerance || !faults.IsSound(tolerance) || !HasSoundCadence(field, faults)) return;
  if (std::holds_alternative<MorningAndEvening>(care.cadence) || std::holds_alternative<OnlyTogether>(care.cadence)) {
    faults.Add(tolerance, "expected none: this cadence does not count days, found " + std::to_string(*care.tolerance) +
                              "; remove it");
  } else if (*care.tolerance < 0 || !IsShorter(*care.tolerance, care.cadence)) {
    faults.Add(tolerance, "expected whole days shorter than the care's interval, found " +
                              std::to_string(*care.tolerance) + "; shorten it");
  }
}

void CheckCadence(const Care& care, const Stage& stage, const std::string& field, Faults& faults) {
  const auto wrong = [&](std::string_view key, const std::string& what) { faults.Add(FieldOf(field, key), what); };
  if (const auto* every = std::get_if<EveryDays>(&care.cadence); every && every->days < 1) {
    wrong("every_days", "expected 1 or more, found " + std::to_string(every->days) + "; correct it");
  }
  if (const auto* weekly = std::get_if<TimesAWeek>(&care.cadence); weekly && (weekly->times < 1 || weekly->times > 7)) {
    wrong("times_a_week", "expected 1 to 7, found " + std::to_string(weekly->times) + "; correct it");
  }
  const auto* once = std::get_if<OnceOnDay>(&care.cadence);
  if (once && (once->day < stage.first_day || (stage.last_day && once->day > *stage.last_day))) {
    wrong("once_on_day", "expected a day of its stage, found " + std::to_string(once->day) +
                             "; move the care to the stage that holds the day");
  }
}

void CheckAlone(const Stage& stage, std::size_t index, const std::string& field, Faults& faults) {
  const Care& care = stage.cares[index];
  if (std::holds_alternative<OnlyTogether>(care.cadence)) {
    const bool brought = std::ranges::any_of(
        stage.cares, [&](const Care& other) { return &other != &care && ShareAny(care.kinds, other.brings); });
    if (!brought) {
      faults.Add(FieldOf(field, "only_together"),
                 "expected another care of the stage that brings it, found none: it would never be asked; give it a "
                 "cadence or name it in another care's brings");
    }
  }
  for (std::size_t before = 0; before < index; ++before) {
    const Care& other = stage.cares[before];
    if (!Recurs(care) || !Recurs(other)) continue;
    const auto twice = std::ranges::find_if(care.kinds, [&](CareKind kind) { return Contains(other.kinds, kind); });
    if (twice == care.kinds.end()) continue;
    faults.Add(FieldOf(field, "kinds"), "expected one cadence a kind and stage, found " + Quoted(ToText(*twice)) +
                                            " in an earlier care too; keep one of them");
  }
}

// One level deep and never circular: what is brought brings nothing.
void CheckTogether(const Stage& stage, std::size_t index, const std::string& field, Faults& faults) {
  const Care& care = stage.cares[index];
  for (std::size_t i = 0; i < care.brings.size(); ++i) {
    for (const Care& other : stage.cares) {
      if (&other == &care || other.brings.empty() || !Contains(other.kinds, care.brings[i])) continue;
      const bool circular = ShareAny(care.kinds, other.brings);
      faults.Add(FieldOf(field, "brings", i),
                 std::string{"expected a care that brings no other, found "} + Quoted(ToText(care.brings[i])) +
                     (circular ? ", which brings this one: a circle" : ", which brings more: two levels") +
                     "; let one care bring all of them");
    }
  }
}

}  // namespace

void CheckCares(const Stage& stage, const std::string& field, Faults& faults) {
  for (std::size_t i = 0; i < stage.cares.size(); ++i) {
    const std::string care = FieldOf(field, "cares", i);
    CheckKinds(stage.cares[i], care, faults);
    CheckTolerance(stage.cares[i], care, faults);
    CheckCadence(stage.cares[i], stage, care, faults);
    CheckWash(stage.cares[i], care, faults);
    CheckAlone(stage, i, care, faults);
    CheckTogether(stage, i, care, faults);
  }
}

}  // namespace rindwatch::rules
