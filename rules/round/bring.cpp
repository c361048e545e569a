#include "rules/round/bring.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include "rules/plans/kinds.hpp"
#include "rules/round/line_making.hpp"
#include "rules/round/sections.hpp"

namespace rindwatch::rules {

namespace {

constexpr Grams kLeastLiquid{100};
constexpr double kLiquidStep = 50;  // what a kitchen scale and jug are used in

std::optional<Tool> ToolOf(CareKind kind, const RoundLine& line) {
  switch (kind) {
    case CareKind::kBrush:
      if (line.marked) return Tool::kOwnBrush;
      return line.care->care && line.care->care->wash ? Tool::kSoftBrush : Tool::kBrush;
    case CareKind::kPierce:
      return Tool::kNeedle;
    case CareKind::kOil:
      return Tool::kOil;
    case CareKind::kWax:
    case CareKind::kCoat:
      return Tool::kWax;
    case CareKind::kWrap:
    case CareKind::kBandage:
      return Tool::kPaper;
    case CareKind::kWeigh:
      return Tool::kScale;
    case CareKind::kTaste:
      return Tool::kTrier;
    case CareKind::kSalt:
      return Tool::kSalt;
    default:
      return std::nullopt;
  }
}

// A board that held slime, or to which a rind stuck, is changed for a dry one.
bool NeedsDryBoards(const RoundLine& line) {
  const auto says = [&](LookFirst look) { return std::ranges::find(line.look_first, look) != line.look_first.end(); };
  return line.mark == FaultKind::kSlime || line.mark == FaultKind::kSticks || says(LookFirst::kStuck);
}

void AddTools(const RoundLine& line, std::set<Tool>& tools) {
  for (const CareKind kind : line.care->kinds) {
    if (Contains(line.care->done_kinds, kind)) continue;
    if (const auto tool = ToolOf(kind, line)) tools.insert(*tool);
  }
  if (NeedsDryBoards(line)) tools.insert(Tool::kDryBoards);
}

void AddWash(const Round::Line& line, const Round& round, std::vector<BringWash>& washes) {
  if (!WashOf(*line.line)) return;
  if (washes.empty() || washes.back().section != line.section)
    washes.push_back({*round.sections[line.section].wash, {}, 0, line.section});
  BringWash& wash = washes.back();
  for (const RoundWheel& wheel : line.line->wheels)
    wash.liquid.value += WashMillilitres(WeightOr(wheel.weight, *line.line->TheStanding().plan));
  wash.wheels += static_cast<int>(line.line->wheels.size());
}

}  // namespace

std::string_view ToText(Tool tool) {
  switch (tool) {
    case Tool::kSoftBrush:
      return "soft brush";
    case Tool::kBrush:
      return "brush";
    case Tool::kOwnBrush:
      return "own brush";
    case Tool::kNeedle:
      return "needle";
    case Tool::kOil:
      return "oil";
    case Tool::kWax:
      return "wax";
    case Tool::kPaper:
      return "paper";
    case Tool::kScale:
      return "scale";
    case Tool::kTrier:
      return "trier";
    case Tool::kDryBoards:
      return "dry boards";
    case Tool::kSalt:
      return "salt";
  }
  return "salt";
}

// 250 g 3 to 5 mL, 2 kg 15 to 25, 8 kg 40 to 60, 35 kg 100 to 150, each at its middle.
double WashMillilitres(Grams weight) {
  constexpr std::pair<double, double> kTable[] = {{250, 4}, {2000, 20}, {8000, 50}, {35'000, 125}};
  const auto* above = std::ranges::find_if(kTable, [&](const auto& at) { return at.first >= weight.value; });
  if (above == std::begin(kTable)) return kTable[0].second;
  if (above == std::end(kTable)) return std::prev(above)->second;
  const auto& below = *std::prev(above);
  return std::lerp(below.second, above->second, (weight.value - below.first) / (above->first - below.first));
}

Bring BringFor(const Round& round) {
  Bring bring;
  std::set<Tool> tools;
  std::set<std::size_t> with_cloth;
  for (const Round::Line& line : round.lines) {
    if (!line.line->care->OnRound()) continue;
    AddTools(*line.line, tools);
    AddWash(line, round, bring.washes);
    if (UsesCloth(*line.line->care)) with_cloth.insert(line.section);
    bring.two_people |= line.line->two_people;
    bring.mask |= NeedsMask(*line.line);
  }
  for (BringWash& wash : bring.washes)
    wash.liquid.value = std::max(kLeastLiquid.value, std::ceil(wash.liquid.value / kLiquidStep) * kLiquidStep);
  bring.cloths = static_cast<int>(with_cloth.size());
  bring.tools.assign(tools.begin(), tools.end());
  return bring;
}

}  // namespace rindwatch::rules
