#include "rules/round/late.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {

namespace {

using enum LookFirst;

// Days after the due day.
constexpr int kLong = 7;
constexpr int kDustyFromAge = 60;  // mites show after two to three months

bool AnyOf(const CareLine& line, std::initializer_list<CareKind> kinds) {
  return std::ranges::any_of(kinds, [&](CareKind kind) { return Contains(line.kinds, kind); });
}

const Care* CareAsking(const Stage& stage, CareKind kind) {
  const auto found = std::ranges::find_if(stage.cares, [&](const Care& care) { return Contains(care.kinds, kind); });
  return found == stage.cares.end() ? nullptr : &*found;
}

std::optional<Cadence> CadenceOf(const Stage* stage, CareKind kind) {
  const Care* care = stage ? CareAsking(*stage, kind) : nullptr;
  // Once on a day is no rhythm, and what only comes along follows another's.
  if (!care || std::holds_alternative<OnceOnDay>(care->cadence) || std::holds_alternative<OnlyTogether>(care->cadence))
    return std::nullopt;
  return care->cadence;
}

}  // namespace

std::string_view ToText(LookFirst look) {
  switch (look) {
    case kSlimy:
      return "slimy";
    case kStuck:
      return "stuck";
    case kDry:
      return "dry";
    case kDusty:
      return "dusty";
    case kSoft:
      return "soft";
  }
  return "soft";
}

std::vector<LookFirst> LookFirstAt(const Standing& standing, const CareLine& line, Date day) {
  // What nobody came to is not late, but the rind was left alone all the same.
  const bool left_alone = line.away && line.OnRound();
  if ((line.state != CareState::kLate && !left_alone) || !standing.plan) return {};
  const bool is_long = left_alone || (day - line.due).count() >= kLong;
  switch (standing.plan->rind) {
    case RindClass::kFreshAndWhite:
      return is_long ? std::vector{kSlimy, kStuck, kSoft} : std::vector{kSlimy, kStuck};
    case RindClass::kWashed:
      return is_long ? std::vector{kSlimy, kStuck, kDry} : std::vector{kSlimy, kStuck};
    case RindClass::kBlue:
      return is_long ? std::vector{kSlimy, kSoft} : std::vector{kSlimy};
    case RindClass::kNaturalAndPressed:
      break;
  }
  if (AnyOf(line, {CareKind::kWash, CareKind::kRub, CareKind::kSalt})) return {kStuck, kDry};
  if (AnyOf(line, {CareKind::kBrush}) && standing.age >= kDustyFromAge) return {kDusty};
  if (AnyOf(line, {CareKind::kOil, CareKind::kCoat, CareKind::kWax})) return {kDry};
  return is_long ? std::vector{kStuck} : std::vector<LookFirst>{};
}

const Stage* StageOnDay(const Standing& standing, int day) {
  if (!standing.plan || standing.part >= standing.plan->parts.size()) return nullptr;
  const Part& part = standing.plan->parts[standing.part];
  const auto in = [day](const std::vector<Stage>& stages) -> const Stage* {
    const auto found = std::ranges::find_if(stages, [day](const Stage& stage) {
      return stage.first_day <= day && (!stage.last_day || day <= *stage.last_day);
    });
    return found == stages.end() ? nullptr : &*found;
  };
  if (const Stage* shared = in(part.stages)) return shared;
  if (!part.branch) return nullptr;
  const auto option = std::ranges::find(part.branch->options, standing.branch_option, &BranchOption::name);
  return option == part.branch->options.end() ? nullptr : in(option->stages);
}

std::optional<NewCadence> NewCadenceAt(const Standing& standing, const CareLine& line) {
  const Stage* stage = standing.stage;
  if (!stage || line.kinds.empty() || !(line.OnRound() || line.Settled())) return std::nullopt;
  const CareKind kind = line.kinds.front();
  const auto now = CadenceOf(stage, kind);
  if (stage->last_day && standing.day == *stage->last_day) {
    const auto next = CadenceOf(StageOnDay(standing, standing.day + 1), kind);
    if (next && now && *next != *now) return NewCadence{*next, true};
  }
  if (standing.day == stage->first_day) {
    const auto before = CadenceOf(StageOnDay(standing, standing.day - 1), kind);
    if (before && now && *before != *now) return NewCadence{*now, false};
  }
  return std::nullopt;
}

}  // namespace rindwatch::rules
