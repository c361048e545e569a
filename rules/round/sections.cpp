#include "rules/round/sections.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {

namespace {

bool AnyOf(const CareLine& care, std::initializer_list<CareKind> kinds) {
  return std::ranges::any_of(kinds, [&](CareKind kind) { return Contains(care.kinds, kind); });
}

// A wash whose plan gives no recipe: a simple brine (3 to 5 %: common practice, no source).
const Wash& SimpleBrine() {
  static const Wash wash{.salt = {3, 5, "common practice, no source"}, .additions = {}, .note = ""};
  return wash;
}

}  // namespace

std::size_t Divider::Of(const RoundLine& line) {
  const bool touched = line.care->OnRound() || line.care->Settled();
  Enter({line.Rind(), line.marked ? line.mark : std::nullopt, line.marked}, line.age_group,
        touched ? WashOf(line) : nullptr);
  if (touched) Use(line);
  return sections_.size() - 1;
}

std::size_t Divider::Of(const RoundQuestion& question) {
  Enter({question.schedule->standing.plan->rind, question.marked ? question.mark : std::nullopt, question.marked},
        question.age_group, nullptr);
  return sections_.size() - 1;
}

void Divider::Enter(const Gloves& gloves, int age_group, const Wash* wash) {
  // Neither liquid nor gloves that touched old wheels go back to the wash of younger ones.
  const bool new_gloves = gloves_ != gloves || (wash && age_group < oldest_);
  // One mixing for one age group and one recipe.
  const Wash* mixed = sections_.empty() ? nullptr : sections_.back().wash;
  const bool new_wash = wash && mixed && (wash_group_ != age_group || (mixed != wash && *mixed != *wash));
  if (new_gloves || new_wash) Begin(gloves, new_gloves);
  if (wash && !sections_.back().wash) {
    sections_.back().wash = wash;
    wash_group_ = age_group;
  }
  oldest_ = std::max(oldest_, age_group);
}

void Divider::Begin(const Gloves& gloves, bool new_gloves) {
  RoundSection section;
  section.rind = gloves.rind;
  section.marked = gloves.marked;
  if (!sections_.empty()) section.seconds = kChangeTime;
  if (new_gloves) {
    if (!sections_.empty()) section.change.push_back(Change::kGloves);
    oldest_ = 0;
    here_.brush = false;
  }
  gloves_ = gloves;
  here_.cloth = here_.wash = false;
  sections_.push_back(std::move(section));
}

void Divider::Use(const RoundLine& line) {
  if (UsesCloth(*line.care)) Need(ever_.cloth, here_.cloth, Change::kCloth);
  if (WashOf(line)) Need(ever_.wash, here_.wash, Change::kWash);
  if (UsesBrush(*line.care)) Need(ever_.brush, here_.brush, Change::kBrush);
  // A mask once put on stays.
  if (line.marked && NeedsMask(line) && !std::exchange(ever_.mask, true) && sections_.size() > 1)
    sections_.back().change.push_back(Change::kMask);
}

// At its first use in a section a thing that was used before is changed.
void Divider::Need(bool& ever, bool& here, Change what) {
  if (std::exchange(here, true)) return;
  if (!std::exchange(ever, true)) return;
  auto& change = sections_.back().change;
  change.push_back(what);
  std::ranges::sort(change);
}

const Wash* WashOf(const RoundLine& line) {
  const Care* care = line.care->care;
  if (care && care->wash) return &*care->wash;
  return AnyOf(*line.care, {CareKind::kWash}) ? &SimpleBrine() : nullptr;
}

bool UsesCloth(const CareLine& care) {
  return AnyOf(care, {CareKind::kWash, CareKind::kRub, CareKind::kWipe, CareKind::kPat, CareKind::kOil});
}

bool UsesBrush(const CareLine& care) { return AnyOf(care, {CareKind::kBrush}); }

bool NeedsMask(const RoundLine& line) {
  return line.mark == FaultKind::kMiteDust ||
         std::ranges::find(line.look_first, LookFirst::kDusty) != line.look_first.end();
}

}  // namespace rindwatch::rules
