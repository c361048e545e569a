#include <algorithm>
#include <cctype>

#include "rules/plans/checks.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

constexpr int kFormat = 1;

void CheckBand(const std::optional<Figure>& target, const std::optional<Figure>& band, const std::string& stage,
               std::string_view channel, Faults& faults) {
  const std::string target_field = FieldOf(stage, std::string{channel} + "_target");
  const std::string band_field = FieldOf(stage, std::string{channel} + "_band");
  CheckFigure(target, target_field, faults);
  CheckFigure(band, band_field, faults);
  if (!target || !band || !faults.IsSound(target_field) || !faults.IsSound(band_field)) return;
  if (band->low <= target->low && target->high <= band->high) return;
  faults.Add(band_field, "expected a band that holds the target " + Shown(*target) + ", found " + Shown(*band) +
                             "; widen the band or move the target");
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
    if (!option.name.empty() && std::ranges::count(names, option.name) > 0) {
      faults.Add(FieldOf(inner, "name"), "expected another name, found " + Quoted(option.name) + " again; rename it");
    }
    names.push_back(option.name);
    CheckFigure(option.ready_days, FieldOf(inner, "ready_days"), faults);
    CheckStages(option.stages, inner, shared, shared_field, faults);
  }
  const std::string chosen = FieldOf(field, "default_option");
  if (faults.IsSound(chosen) && std::ranges::count(names, branch.default_option) == 0) {
    faults.Add(chosen, "expected the name of one of the options, found " + Quoted(branch.default_option) +
                           "; the plan follows it until the keeper answers");
  }
}

bool AsksOnce(const std::vector<Stage>& stages, CareKind kind) {
  return std::ranges::any_of(stages, [kind](const Stage& stage) {
    return std::ranges::any_of(stage.cares, [kind](const Care& care) {
      return Contains(care.kinds, kind) && std::holds_alternative<OnceOnDay>(care.cadence);
    });
  });
}

bool AsksOnce(const Part& part, CareKind kind) {
  if (AsksOnce(part.stages, kind)) return true;
  return part.branch && std::ranges::any_of(part.branch->options, [kind](const BranchOption& option) {
           return AsksOnce(option.stages, kind);
         });
}

void CheckNoQuestion(const Part& part, const std::string& field, Faults& faults) {
  if (part.asked_from) faults.Add(FieldOf(field, "asked_from"), "expected none in the first part; remove it");
  if (!part.question.empty()) faults.Add(FieldOf(field, "question"), "expected none in the first part; remove it");
}

// The part begins with a doing of the part before: that must be asked for, and nothing else.
void CheckBegun(const Part& part, const Part& before, CareKind kind, const std::string& field, Faults& faults) {
  if (part.asked_from) {
    faults.Add(FieldOf(field, "asked_from"), "expected none: without a question the first " + Quoted(ToText(kind)) +
                                                 " begins this part, found " + std::to_string(*part.asked_from) +
                                                 "; remove it or write the question");
  }
  if (AsksOnce(before, kind)) return;
  faults.Add(FieldOf(field, "question"), "missing; write the question whose yes begins this part, or ask " +
                                             Quoted(ToText(kind)) +
                                             " with once_on_day in the part before: its first doing begins this part");
}

void CheckStart(const Part& part, const Part& before, const std::string& field, Faults& faults) {
  const std::string question = FieldOf(field, "question");
  const bool sound = faults.IsSound(question) && faults.IsSound(FieldOf(field, "start"));
  if (const auto kind = sound ? BegunBy(part) : std::nullopt) return CheckBegun(part, before, *kind, field, faults);
  if (!part.asked_from && faults.IsSound(FieldOf(field, "asked_from"))) {
    faults.Add(FieldOf(field, "asked_from"),
               "missing; write the day of the part before from which the keeper is asked whether this part has begun");
  }
  if (part.question.empty() && sound) {
    faults.Add(question, "missing; write the question whose yes begins this part: \"Dry to the touch?\"");
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
  if (index == 0) {
    CheckNoQuestion(part, field, faults);
  } else {
    CheckStart(part, plan.parts[index - 1], field, faults);
  }
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

// The ready window counts from an event that a wheel of the plan can have.
void CheckReadyFrom(const Plan& plan, Faults& faults) {
  if (plan.parts.empty() || !faults.IsSound("ready_from") || !faults.IsSound("parts")) return;
  std::string starts;
  for (const Part& part : plan.parts) {
    if (part.start == plan.ready_from) return;
    starts += (starts.empty() ? "" : ", ") + Quoted(ToText(part.start));
  }
  faults.Add("ready_from", "expected the start of one of the parts (" + starts + "), found " +
                               Quoted(ToText(plan.ready_from)) + "; count the ready window from one of them");
}

bool IsIdLetter(char letter) {
  const auto c = static_cast<unsigned char>(letter);
  return c < 128 && (std::islower(c) != 0 || std::isdigit(c) != 0 || letter == '-');
}

}  // namespace

void CheckFigure(const std::optional<Figure>& figure, const std::string& field, Faults& faults) {
  if (!figure || !faults.IsSound(field) || figure->low <= figure->high) return;
  faults.Add(field, "expected low at or below high, found " + Shown(*figure) + "; exchange or correct them");
}

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
  CheckReadyFrom(plan, faults);
}

std::vector<PlanFault> CheckPlan(const Plan& plan) {
  Faults faults;
  CheckPlan(plan, faults);
  return faults.Take();
}

}  // namespace rindwatch::rules
