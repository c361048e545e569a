#include "rules/plans/edit.hpp"

#include <algorithm>

#include "rules/plans/checks.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

constexpr std::string_view kNoReason = "the keeper's own choice";

using Problem = std::optional<PlanFault>;

// Lives while one edit is applied to a copy of the plan.
class Editor {
 public:
  Editor(Plan& plan, const PlanEdit& edit, std::string field) : plan_(plan), edit_(edit), field_(std::move(field)) {}

  Problem Run() {
    const int asked = (edit_.set ? 1 : 0) + (edit_.add ? 1 : 0) + (edit_.remove ? 1 : 0);
    if (asked != 1) return Wrong("", "expected one of set, add and remove, found " + std::to_string(asked));
    if (auto problem = Find()) return problem;
    if (edit_.add) return Add();
    if (edit_.remove) return edit_.place.care ? RemoveCare() : RemoveStage();
    return edit_.place.care ? SetCare() : SetStage();
  }

 private:
  Problem Wrong(std::string_view key, std::string what) const {
    return PlanFault{0, key.empty() ? field_ : FieldOf(field_, key), std::move(what)};
  }
  std::string Why() const { return edit_.why.empty() ? std::string{kNoReason} : edit_.why; }

  Problem Find();
  Problem NoSuch(std::string_view key, std::size_t found, std::size_t count) const;
  Problem Add();
  Problem RemoveCare();
  Problem RemoveStage();
  Problem SetStage();
  Problem SetCare();
  Problem NotOf(std::string_view owner, std::initializer_list<std::pair<std::string_view, bool>> settings) const;

  Stage& TheStage() { return (*stages_)[edit_.place.stage]; }
  Care& TheCare() { return TheStage().cares[*edit_.place.care]; }
  bool IsLastShared() const { return option_ == nullptr && part_->branch && edit_.place.stage + 1 == stages_->size(); }
  void BeginNext(int first_day);
  void Set(std::optional<Figure>& figure, const std::optional<PlanSpan>& span) const {
    if (span) figure = Figure{span->low, span->high, Why()};
  }

  Plan& plan_;
  const PlanEdit& edit_;
  std::string field_;
  Part* part_ = nullptr;
  BranchOption* option_ = nullptr;
  std::vector<Stage>* stages_ = nullptr;
};

Problem Editor::NoSuch(std::string_view key, std::size_t found, std::size_t count) const {
  return Wrong(key, "expected a number below " + std::to_string(count) + ", found " + std::to_string(found) +
                        "; the plan may have changed meanwhile: look at it again");
}

Problem Editor::Find() {
  const PlanPlace& place = edit_.place;
  if (place.part >= plan_.parts.size()) return NoSuch("part", place.part, plan_.parts.size());
  part_ = &plan_.parts[place.part];
  stages_ = &part_->stages;
  if (!place.option.empty()) {
    std::vector<BranchOption> none;
    std::vector<BranchOption>& options = part_->branch ? part_->branch->options : none;
    const auto found = std::ranges::find(options, place.option, &BranchOption::name);
    if (found == options.end()) {
      return Wrong("option", "expected the name of a road of the part, found " + Quoted(place.option) +
                                 "; the plan may have changed meanwhile: look at it again");
    }
    option_ = &*found;
    stages_ = &option_->stages;
  }
  if (place.stage >= stages_->size()) return NoSuch("stage", place.stage, stages_->size());
  if (place.care && *place.care >= TheStage().cares.size()) {
    return NoSuch("care", *place.care, TheStage().cares.size());
  }
  return std::nullopt;
}

Problem Editor::Add() {
  if (edit_.place.care) return Wrong("care", "expected none: a care is added to a stage; name the stage alone");
  Care care{edit_.add->kinds, edit_.add->brings, edit_.add->cadence, std::nullopt, "", Why()};
  if (edit_.add->salt) {
    if (!Contains(care.kinds, CareKind::kWash)) return Wrong("add.salt", "expected none: only a wash has salt");
    care.wash = Wash{{edit_.add->salt->low, edit_.add->salt->high, Why()}, {}, ""};
  }
  TheStage().cares.push_back(std::move(care));
  return std::nullopt;
}

Problem Editor::RemoveCare() {
  TheStage().cares.erase(TheStage().cares.begin() + static_cast<std::ptrdiff_t>(*edit_.place.care));
  return std::nullopt;
}

// The stage after this one, on each road that follows.
void Editor::BeginNext(int first_day) {
  if (edit_.place.stage + 1 < stages_->size()) {
    (*stages_)[edit_.place.stage + 1].first_day = first_day;
  } else if (IsLastShared()) {
    for (BranchOption& option : part_->branch->options) {
      if (!option.stages.empty()) option.stages.front().first_day = first_day;
    }
  }
}

// No gap is left: the stage before lasts as long as this one did. Where there is none, or it is shared with other
// roads, the stage after begins as early.
Problem Editor::RemoveStage() {
  const std::size_t index = edit_.place.stage;
  if (index > 0) {
    (*stages_)[index - 1].last_day = TheStage().last_day;
    (*stages_)[index - 1].source = Why();
  } else {
    BeginNext(TheStage().first_day);
  }
  stages_->erase(stages_->begin() + static_cast<std::ptrdiff_t>(index));
  return std::nullopt;
}

Problem Editor::NotOf(std::string_view owner, std::initializer_list<std::pair<std::string_view, bool>> settings) const {
  for (const auto& [key, given] : settings) {
    if (given) {
      return Wrong(FieldOf("set", key), "is a setting of a " + std::string{owner} + "; name the right place for it");
    }
  }
  return std::nullopt;
}

Problem Editor::SetStage() {
  const PlanSetting& set = *edit_.set;
  if (auto wrong = NotOf("care", {{"cadence", set.cadence.has_value()},
                                  {"tolerance", set.tolerance.has_value()},
                                  {"note", set.note.has_value()},
                                  {"salt", set.salt.has_value()}})) {
    return wrong;
  }
  Set(TheStage().temperature_target, set.temperature_target);
  Set(TheStage().temperature_band, set.temperature_band);
  Set(TheStage().humidity_target, set.humidity_target);
  Set(TheStage().humidity_band, set.humidity_band);
  Set(option_ ? option_->ready_days : plan_.ready_days, set.ready);
  if (set.last_day) {
    TheStage().last_day = set.last_day;
    TheStage().source = Why();
    BeginNext(*set.last_day + 1);
  }
  return std::nullopt;
}

Problem Editor::SetCare() {
  const PlanSetting& set = *edit_.set;
  if (auto wrong = NotOf("stage", {{"temperature_target", set.temperature_target.has_value()},
                                   {"temperature_band", set.temperature_band.has_value()},
                                   {"humidity_target", set.humidity_target.has_value()},
                                   {"humidity_band", set.humidity_band.has_value()},
                                   {"last_day", set.last_day.has_value()},
                                   {"ready", set.ready.has_value()}})) {
    return wrong;
  }
  Care& care = TheCare();
  if (set.salt && !Contains(care.kinds, CareKind::kWash))
    return Wrong("set.salt", "expected a wash, found " + std::string(ToText(care.kinds.front())));
  if (set.salt) {
    if (!care.wash) care.wash.emplace();
    care.wash->salt = {set.salt->low, set.salt->high, Why()};
  }
  if (set.cadence) {
    care.cadence = *set.cadence;
    // One that was written for the old interval says nothing about the new one.
    if (!set.tolerance) care.tolerance.reset();
  }
  if (set.tolerance) care.tolerance = set.tolerance;
  if (set.note) care.note = *set.note;
  if (set.cadence || set.tolerance) care.source = Why();
  return std::nullopt;
}

}  // namespace

std::variant<Plan, std::vector<PlanFault>> Apply(const Plan& plan, std::span<const PlanEdit> edits) {
  Plan edited = plan;
  for (std::size_t i = 0; i < edits.size(); ++i) {
    if (auto problem = Editor(edited, edits[i], FieldOf("", "edits", i)).Run()) return std::vector{*std::move(problem)};
  }
  // What is kept must read again; the lines of the faults are those of the text that would be kept.
  PlanReading reading = ReadPlan(WritePlan(edited), edited.id);
  if (!reading.plan) return std::move(reading.faults);
  return *std::move(reading.plan);
}

}  // namespace rindwatch::rules
