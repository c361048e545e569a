#include "rules/round/bring.hpp"

#include <algorithm>
#include <numeric>
#include <set>

#include "rules/plans/kinds.hpp"
#include "rules/round/line_making.hpp"
#include "rules/round/sections.hpp"

namespace rindwatch::rules {

namespace {

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

// The wheels of one mixing.
struct Bowl {
  std::size_t section = 0;
  std::vector<Grams> wheels{};
  std::vector<RoundPlace> places{};
};

bool IsSame(const RoundPlace& a, const RoundPlace& b) { return a.cave == b.cave && a.shelf == b.shelf; }

// A section is worked with the bowl, or the cloth, of the one before it unless a change of it is named.
bool IsSameThing(const Round& round, std::size_t section, std::size_t later, Change what) {
  const auto at = [&](std::size_t number) { return round.sections.begin() + static_cast<std::ptrdiff_t>(number); };
  return std::none_of(at(section + 1), at(later + 1),
                      [what](const RoundSection& between) { return std::ranges::count(between.change, what) > 0; });
}

void AddToBowl(const Round& round, const Round::Line& line, std::vector<Bowl>& bowls) {
  if (!WashOf(*line.line)) return;
  if (bowls.empty() || !IsSameThing(round, bowls.back().section, line.section, Change::kWash))
    bowls.push_back({line.section});
  auto& places = bowls.back().places;
  if (places.empty() || !IsSame(places.back(), line.line->place)) places.push_back(line.line->place);
  for (const RoundWheel& wheel : line.line->wheels)
    bowls.back().wheels.push_back(WeightOr(wheel.weight, *line.line->TheStanding().plan));
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

Bring BringFor(const Round& round) {
  std::vector<std::size_t> all(round.lines.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return BringFor(round, all);
}

Bring BringFor(const Round& round, const std::vector<std::size_t>& lines) {
  Bring bring;
  std::set<Tool> tools;
  std::vector<Bowl> bowls;
  std::vector<std::size_t> with_cloth;  // the first section of each
  for (const std::size_t at : lines) {
    const Round::Line& line = round.lines[at];
    if (!line.line->care->OnRound()) continue;
    AddTools(*line.line, tools);
    AddToBowl(round, line, bowls);
    if (UsesCloth(*line.line->care) &&
        (with_cloth.empty() || !IsSameThing(round, with_cloth.back(), line.section, Change::kCloth)))
      with_cloth.push_back(line.section);
    bring.two_people |= line.line->two_people;
    bring.mask |= NeedsMask(*line.line);
  }
  for (const Bowl& bowl : bowls) {
    const Wash& recipe = *round.sections[bowl.section].wash;
    bring.washes.push_back(
        {recipe, MixFor(recipe, bowl.wheels), static_cast<int>(bowl.wheels.size()), bowl.section, bowl.places});
  }
  bring.cloths = static_cast<int>(with_cloth.size());
  bring.tools.assign(tools.begin(), tools.end());
  return bring;
}

}  // namespace rindwatch::rules
