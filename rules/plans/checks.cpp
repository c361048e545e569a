#include <algorithm>
#include <cctype>
#include <cstdio>

#include "rules/plans/faults.hpp"

namespace rindwatch::rules {
namespace {

constexpr int kFormat = 1;

std::string Plain(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}
std::string Plain(const Figure& figure) { return Plain(figure.low) + " to " + Plain(figure.high); }
std::string Quoted(std::string_view text) { return '"' + std::string{text} + '"'; }

template <typename T>
bool Contains(const std::vector<T>& values, const T& value) {
  return std::ranges::find(values, value) != values.end();
}

bool Recurs(const Care& care) {
  return !std::holds_alternative<OnceOnDay>(care.cadence) && !std::holds_alternative<OnlyTogether>(care.cadence);
}

void CheckFigure(const std::optional<Figure>& figure, const std::string& field, Faults& faults) {
  if (!figure || !faults.IsSound(field) || figure->low <= figure->high) return;
  faults.Add(field, "expected low at or below high, found " + Plain(*figure) + "; exchange or correct them");
}

void CheckBand(const std::optional<Figure>& target, const std::optional<Figure>& band, const std::string& stage,
               std::string_view channel, Faults& faults) {
  const std::string target_field = FieldOf(stage, std::string{channel} + "_target");
  const std::string band_field = FieldOf(stage, std::string{channel} + "_band");
  CheckFigure(target, target_field, faults);
  CheckFigure(band, band_field, faults);
  if (!target || !band || !faults.IsSound(target_field) || !faults.IsSound(band_field)) return;
  if (band->low <= target->low && target->high <= band->high) return;
  faults.Add(band_field, "expected a band that holds the target " + Plain(*target) + ", found " + Plain(*band) +
                             "; widen the band or move the target");
}

// ---- Cares ----

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
  for (const char* key : {"cadence", "every_days", "times_a_week", "once_on_day"}) {
    if (!faults.IsSound(FieldOf(care, key))) return false;
  }
  return true;
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
    const bool brought = std::ranges::any_of(stage.cares, [&](const Care& other) {
      return &other != &care &&
             std::ranges::any_of(care.kinds, [&](CareKind kind) { return Contains(other.brings, kind); });
    });
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
      const bool circular =
          std::ranges::any_of(care.kinds, [&](CareKind kind) { return Contains(other.brings, kind); });
      faults.Add(FieldOf(field, "brings", i),
                 std::string{"expected a care that brings no other, found "} + Quoted(ToText(care.brings[i])) +
                     (circular ? ", which brings this one: a circle" : ", which brings more: two levels") +
                     "; let one care bring all of them");
    }
  }
}

void CheckCares(const Stage& stage, const std::string& field, Faults& faults) {
  for (std::size_t i = 0; i < stage.cares.size(); ++i) {
    const std::string care = FieldOf(field, "cares", i);
    CheckKinds(stage.cares[i], care, faults);
    CheckTolerance(stage.cares[i], care, faults);
    CheckCadence(stage.cares[i], stage, care, faults);
    CheckAlone(stage, i, care, faults);
    CheckTogether(stage, i, care, faults);
  }
}

// ---- Stages ----

void CheckStage(const Stage& stage, const std::string& field, Faults& faults) {
  const std::string last = FieldOf(field, "last_day");
  if (stage.last_day && *stage.last_day < stage.first_day && faults.IsSound(last)) {
    faults.Add(last, "expected day " + std::to_string(stage.first_day) + " or later, found " +
                         std::to_string(*stage.last_day) + "; exchange first_day and last_day or correct them");
  }
  CheckBand(stage.temperature_target, stage.temperature_band, field, "temperature", faults);
  CheckBand(stage.humidity_target, stage.humidity_band, field, "humidity", faults);
  CheckCares(stage, field, faults);
}

void CheckFollows(const Stage& before, const Stage& stage, const std::string& before_field, const std::string& field,
                  Faults& faults) {
  const std::string first = FieldOf(field, "first_day");
  if (!faults.IsSound(first) || !faults.IsSound(FieldOf(before_field, "last_day"))) return;
  if (!before.last_day) {
    faults.Add(
        FieldOf(before_field, "last_day"),
        "missing: only the last stage of a part may be without an end; write the day before the next stage begins");
    return;
  }
  const int expected = *before.last_day + 1;
  if (stage.first_day == expected) return;
  faults.Add(first, "expected day " + std::to_string(expected) + ", the day after the stage before, found " +
                        std::to_string(stage.first_day) + (stage.first_day > expected ? ": a gap" : ": an overlap") +
                        "; move this day or the last_day of the stage before");
}

void CheckStages(const std::vector<Stage>& stages, const std::string& parent, const Stage* before,
                 std::string before_field, Faults& faults) {
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const std::string field = FieldOf(parent, "stages", i);
    CheckStage(stages[i], field, faults);
    if (before) CheckFollows(*before, stages[i], before_field, field, faults);
    before = &stages[i];
    before_field = field;
  }
}

// ---- Parts ----

void CheckBranch(const Part& part, const std::string& part_field, Faults& faults) {
  const Branch& branch = *part.branch;
  const std::string field = FieldOf(part_field, "branch");
  const Stage* shared = part.stages.empty() ? nullptr : &part.stages.back();
  const std::string shared_field =
      part.stages.empty() ? std::string{} : FieldOf(part_field, "stages", part.stages.size() - 1);
  if (branch.options.size() < 2 && faults.IsSound(FieldOf(field, "options"))) {
    faults.Add(FieldOf(field, "options"), "expected two or more, found " + std::to_string(branch.options.size()) +
                                              "; a branch without a choice is no branch");
  }
  std::vector<std::string> names;
  for (std::size_t i = 0; i < branch.options.size(); ++i) {
    const BranchOption& option = branch.options[i];
    const std::string inner = FieldOf(field, "options", i);
    if (!option.name.empty() && Contains(names, option.name)) {
      faults.Add(FieldOf(inner, "name"), "expected another name, found " + Quoted(option.name) + " again; rename it");
    }
    names.push_back(option.name);
    CheckStages(option.stages, inner, shared, shared_field, faults);
  }
  const std::string chosen = FieldOf(field, "default_option");
  if (faults.IsSound(chosen) && !Contains(names, branch.default_option)) {
    faults.Add(chosen, "expected the name of one of the options, found " + Quoted(branch.default_option) +
                           "; the plan follows it until the keeper answers");
  }
}

void CheckQuestion(const Part& part, bool first, const std::string& field, Faults& faults) {
  if (first) {
    if (part.asked_from) faults.Add(FieldOf(field, "asked_from"), "expected none in the first part; remove it");
    if (!part.question.empty()) faults.Add(FieldOf(field, "question"), "expected none in the first part; remove it");
    return;
  }
  if (!part.asked_from && faults.IsSound(FieldOf(field, "asked_from"))) {
    faults.Add(FieldOf(field, "asked_from"),
               "missing; write the day of the part before from which the keeper is asked whether this part has begun");
  }
  if (part.question.empty() && faults.IsSound(FieldOf(field, "question"))) {
    faults.Add(FieldOf(field, "question"),
               "missing; write the question whose yes begins this part: \"Dry to the touch?\"");
  }
}

void CheckFirstStage(const Part& part, const std::string& field, Faults& faults) {
  if (part.stages.empty()) {
    if (faults.IsSound(FieldOf(field, "stages"))) {
      faults.Add(FieldOf(field, "stages"), "missing; a part needs at least one [[parts.stages]]");
    }
    return;
  }
  const std::string first = FieldOf(FieldOf(field, "stages", 0), "first_day");
  if (part.stages.front().first_day > 1 && faults.IsSound(first)) {
    faults.Add(first, "expected day 0 or 1 of the part, found " + std::to_string(part.stages.front().first_day) +
                          ": a gap; begin the first stage with the part");
  }
}

void CheckPart(const Plan& plan, std::size_t index, Faults& faults) {
  const Part& part = plan.parts[index];
  const std::string field = FieldOf("", "parts", index);
  CheckQuestion(part, index == 0, field, faults);
  CheckFigure(part.usual_days, FieldOf(field, "usual_days"), faults);
  CheckFirstStage(part, field, faults);
  CheckStages(part.stages, field, nullptr, {}, faults);
  if (part.branch) CheckBranch(part, field, faults);
  for (std::size_t before = 0; before < index; ++before) {
    if (plan.parts[before].start != part.start || !faults.IsSound(FieldOf(field, "start"))) continue;
    faults.Add(FieldOf(field, "start"), "expected another event than the parts before, found " +
                                            Quoted(ToText(part.start)) +
                                            " again; a part begins with an event of its own");
  }
}

bool IsIdLetter(char letter) {
  const auto c = static_cast<unsigned char>(letter);
  return c < 128 && (std::islower(c) || std::isdigit(c) || letter == '-');
}

}  // namespace

void CheckPlan(const Plan& plan, Faults& faults) {
  if (plan.format != kFormat && faults.IsSound("format")) {
    faults.Add("format", "expected 1, the format this program reads, found " + std::to_string(plan.format) +
                             "; use a program that knows the format, or write the plan anew");
  }
  if (faults.IsSound("id") && !std::ranges::all_of(plan.id, IsIdLetter)) {
    faults.Add("id", "expected small letters, digits and hyphens, found " + Quoted(plan.id) + "; rename it");
  }
  CheckFigure(plan.ready_days, "ready_days", faults);
  if (plan.parts.empty() && faults.IsSound("parts")) {
    faults.Add("parts", "missing; a plan needs at least one [[parts]]");
  }
  for (std::size_t i = 0; i < plan.parts.size(); ++i) CheckPart(plan, i, faults);
}

std::vector<PlanFault> CheckPlan(const Plan& plan) {
  Faults faults;
  CheckPlan(plan, faults);
  return faults.Take();
}

}  // namespace rindwatch::rules
