#include "rules/round/sections.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {

namespace {

bool AnyOf(const std::vector<CareKind>& of, std::initializer_list<CareKind> kinds) {
  return std::ranges::any_of(kinds, [&](CareKind kind) { return Contains(of, kind); });
}

// A wash whose plan gives no recipe: a simple brine (3 to 5 %: common practice, no source).
const Wash& SimpleBrine() {
  static const Wash wash{.salt = {3, 5, "common practice, no source"}, .additions = {}, .note = ""};
  return wash;
}

}  // namespace

std::size_t Divider::Of(const RoundLine& line) {
  const bool touched = line.care->OnRound() || line.care->Settled();
  const Needs needs = touched ? Needs{UsesCloth(*line.care), WashOf(line)} : Needs{};
  Enter({line.Rind(), line.marked ? line.mark : std::nullopt, line.marked}, line.age_group, needs);
  if (touched) Use(line);
  return sections_.size() - 1;
}

std::size_t Divider::Of(const RoundQuestion& question) {
  const Gloves its{question.schedule->standing.plan->rind, question.marked ? question.mark : std::nullopt,
                   question.marked};
  // Nothing is touched for a question: it has a head of its own, and the gloves stay.
  if ((asked_ ? asked_ : gloves_) != its) {
    Head(its);
    asked_ = its;
  }
  return sections_.size() - 1;
}

void Divider::Enter(const Gloves& gloves, int age_group, Needs needs) {
  const Wash* wash = needs.wash;
  // Neither liquid nor gloves that touched old wheels go back to the wash of younger ones.
  const bool new_gloves = gloves_ != gloves || (wash != nullptr && age_group < oldest_);
  // One mixing for one age group and one recipe.
  const Wash* mixed = sections_.empty() ? nullptr : sections_.back().wash;
  const bool new_wash =
      wash != nullptr && mixed != nullptr && (wash_group_ != age_group || (mixed != wash && *mixed != *wash));
  // Nor does a cloth go back to younger ones, whatever it is used for.
  const bool new_cloth = needs.cloth && here_.cloth && age_group < wiped_;
  if (new_gloves || new_wash || new_cloth) {
    Begin(gloves, new_gloves, new_gloves || new_wash);
  } else if (asked_ && asked_ != gloves) {
    Head(gloves);
  }
  asked_.reset();
  if (wash && !sections_.back().wash) {
    sections_.back().wash = wash;
    wash_group_ = age_group;
  }
  oldest_ = std::max(oldest_, age_group);
  if (needs.cloth) wiped_ = std::max(wiped_, age_group);
}

void Divider::Head(const Gloves& gloves) {
  RoundSection section;
  section.rind = gloves.rind;
  section.marked = gloves.marked;
  if (!sections_.empty()) section.wash = sections_.back().wash;
  sections_.push_back(std::move(section));
}

void Divider::Begin(const Gloves& gloves, bool new_gloves, bool new_wash) {
  const bool worn = gloves_.has_value();
  // The head may stand already, of a question about the same wheels.
  if (asked_ != gloves) Head(gloves);
  RoundSection& section = sections_.back();
  // Another cloth alone lies at hand, and the wash stays.
  if (new_wash && worn) section.seconds = kChangeTime;
  if (new_wash) section.wash = nullptr;
  if (new_gloves) {
    if (worn) section.change.push_back(Change::kGloves);
    oldest_ = 0;
    here_.brush = false;
  }
  gloves_ = gloves;
  here_.cloth = false;
  here_.wash &= !new_wash;
  wiped_ = 0;
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
  return AnyOf(line.care->kinds, {CareKind::kWash}) ? &SimpleBrine() : nullptr;
}

bool UsesCloth(const std::vector<CareKind>& kinds) {
  return AnyOf(kinds, {CareKind::kWash, CareKind::kRub, CareKind::kWipe, CareKind::kPat, CareKind::kOil});
}

bool UsesCloth(const CareLine& care) { return UsesCloth(care.kinds); }

bool UsesBrush(const CareLine& care) { return AnyOf(care.kinds, {CareKind::kBrush}); }

bool NeedsMask(const RoundLine& line) {
  return line.mark == FaultKind::kMiteDust ||
         std::ranges::find(line.look_first, LookFirst::kDusty) != line.look_first.end();
}

}  // namespace rindwatch::rules
