#include "rules/faults/faults.hpp"

namespace rindwatch::rules {
namespace {

using enum FaultKind;
using enum RindClass;
using enum CareKind;

constexpr std::string_view kPractice = "common practice, no source";
constexpr std::string_view kMites =
    "Sanchez-Ramos & Castanera, J. Stored Products Research 45, 2009: at 15, 6, 4 and 2 degrees 174, 14, 11 and "
    "1 mites on a square centimetre; a mask against the dust: an occupational asthma reference on cheese makers "
    "quoting Allergy 1996; the days: common practice, no source";
constexpr std::string_view kLateBlowing =
    "A trial on late blowing in one semi-hard alpine cheese: every cheese ripened at 13 degrees blew, none at "
    "8 degrees in 90 days; it cannot be mended once it is there (Velasco et al., Cogent Food & Agriculture, 2025)";
constexpr std::string_view kEarlyBlowing =
    "Cheese school cards on faults: gas of coliforms or yeasts usually shows within 24 hours; the days: "
    "common practice, no source";
constexpr std::string_view kGreasy =
    "Centre technique fromager, guide on accidents of fromagerie, 2004: a greasy film comes of cold and damp "
    "2 to 7 days after unmoulding; the days of care: common practice, no source";
constexpr std::string_view kMould =
    "McGee, On Food and Cooking, 2004: what a wild mould makes can reach about 2 cm deep; "
    "the rest: common practice, no source";
constexpr std::string_view kAmmonia =
    "A trade magazine on affinage: stale air, over-ripe, wrapped too soon or too tightly; NIOSH by the Minnesota "
    "Department of Agriculture on ammonia: the nose tires of it";

// Young, fine cracks heal; one that stayed open for more than a week may be blue inside.
constexpr int kRindSets = 14;
// Where a wheel is blown this early it is not the slow kind.
constexpr int kEarly = 3;
// A film on white rinds this young is the greasy one.
constexpr int kFilm = 10;
// Mites come from two to three months on, on hard, dry rinds.
constexpr int kMiteAge = 60;

std::vector<FaultCare> TurnedEachDay(std::optional<CareKind> instead_of = std::nullopt) {
  return {{1, kTurn, instead_of}, {2, kTurn, instead_of}, {3, kTurn, instead_of}};
}

// A table, which is as long as it has rows. NOLINTNEXTLINE(readability-function-size)
std::vector<FaultAdvice> Catalogue() {
  return {
      // ---- crack: too dry, a draught, too warm in the first week, much salt ----
      {.fault = kCrack,
       .rinds = {kFreshAndWhite, kNaturalAndPressed, kWashed},
       .to_age = kRindSets,
       .words = "crack.young",
       .then = {{2, kRub}},
       .look_again_days = 2,
       .neighbours = true,
       .source = kPractice},
      {.fault = kCrack,
       .rinds = {kFreshAndWhite, kNaturalAndPressed, kWashed},
       .from_age = kRindSets + 1,
       .words = "crack.old",
       .then = {{7, kOil}},
       .look_again_days = 7,
       .neighbours = true,
       .source = kMould},
      {.fault = kCrack,
       .rinds = {kBlue},
       .words = "crack.blue",
       .then = {{3, kRub}},
       .look_again_days = 3,
       .neighbours = true,
       .source = kPractice},

      // ---- slime: over 97 % or dripping, washed too wet or too often, no drying rest, no air below ----
      {.fault = kSlime,
       .rinds = {kFreshAndWhite},
       .to_age = kFilm,
       .words = "slime.film",
       .then = {{1, kTurn, kTurn}, {2, kTurn, kTurn}},
       .look_again_days = 1,
       .apart = true,
       .sisters = true,
       .neighbours = true,
       .source = kGreasy},
      {.fault = kSlime,
       .rinds = {kFreshAndWhite},
       .from_age = kFilm + 1,
       .words = "slime.white",
       .then = {{1, kTurn, kTurn}, {2, kTurn, kTurn}},
       .look_again_days = 1,
       .apart = true,
       .sisters = true,
       .neighbours = true,
       .source = kPractice},
      {.fault = kSlime,
       .rinds = {kNaturalAndPressed},
       .words = "slime.natural",
       .then = {{1, kTurn, kTurn}, {3, kBrush, kWash}},
       .look_again_days = 2,
       .apart = true,
       .neighbours = true,
       .source = kPractice},
      {.fault = kSlime,
       .rinds = {kWashed},
       .words = "slime.washed",
       .then = {{1, kTurn}, {4, kWash, kWash}},
       .look_again_days = 2,
       .apart = true,
       .neighbours = true,
       .source = kPractice},
      {.fault = kSlime,
       .rinds = {kBlue},
       .words = "slime.blue",
       .then = {{2, kWipe, kWipe}},
       .look_again_days = 2,
       .apart = true,
       .neighbours = true,
       .source = kPractice},

      // ---- blue spot: spores from a blue, wet spots, a cut face, a crack. Vinegar is no order here: a smear dies of
      // it, and it must never meet chlorine ----
      {.fault = kBlueSpot,
       .rinds = {kFreshAndWhite},
       .words = "blue spot.white",
       .then = {{2, kWipe}},
       .look_again_days = 2,
       .apart = true,
       .sisters = true,
       .neighbours = true,
       .source = kMould},
      {.fault = kBlueSpot,
       .rinds = {kNaturalAndPressed},
       .words = "blue spot.natural",
       .then = {{3, kBrush, kBrush}},
       .look_again_days = 3,
       .apart = true,
       .neighbours = true,
       .source = kMould},
      {.fault = kBlueSpot,
       .rinds = {kWashed},
       .words = "blue spot.washed",
       .then = {{1, kWash, kWash}, {3, kWash, kWash}},
       .look_again_days = 2,
       .apart = true,
       .neighbours = true,
       .source = kMould},
      {.fault = kBlueSpot, .rinds = {kBlue}, .words = "blue spot.blue", .look_again_days = 3, .source = kMould},

      // ---- bulge ----
      {.fault = kBulge,
       .rinds = {kFreshAndWhite, kNaturalAndPressed, kWashed, kBlue},
       .to_age = kEarly,
       .words = "bulge.early",
       .look_again_days = 1,
       .apart = true,
       .hold = true,
       .sisters = true,
       .source = kEarlyBlowing},
      {.fault = kBulge,
       .rinds = {kFreshAndWhite, kNaturalAndPressed, kWashed, kBlue},
       .from_age = kEarly + 1,
       .words = "bulge.late",
       .look_again_days = 2,
       .apart = true,
       .hold = true,
       .sisters = true,
       .source = kLateBlowing},

      // ---- mite dust ----
      {.fault = kMiteDust,
       .rinds = {kNaturalAndPressed},
       .from_age = kMiteAge,
       .words = "mite dust.old",
       .then = {{7, kBrush, kBrush}, {7, kOil}},
       .look_again_days = 2,
       .apart = true,
       .mask = true,
       .neighbours = true,
       .source = kMites},
      {.fault = kMiteDust,
       .rinds = {kNaturalAndPressed},
       .to_age = kMiteAge - 1,
       .words = "mite dust.young",
       .then = {{7, kBrush, kBrush}},
       .look_again_days = 2,
       .apart = true,
       .mask = true,
       .neighbours = true,
       .source = kMites},
      {.fault = kMiteDust,
       .rinds = {kFreshAndWhite, kWashed, kBlue},
       .words = "mite dust.other",
       .then = {{3, kWipe}},
       .look_again_days = 3,
       .apart = true,
       .mask = true,
       .neighbours = true,
       .source = kMites},

      // ---- soft on one side, slumped, the rind slides ----
      {.fault = kSoft,
       .rinds = {kFreshAndWhite, kWashed},
       .words = "soft.soft",
       .then = {{1, kTurn, kTurn}, {2, kTurn, kTurn}},
       .look_again_days = 1,
       .sisters = true,
       .source = kPractice},
      {.fault = kSoft,
       .rinds = {kNaturalAndPressed, kBlue},
       .words = "soft.firm",
       .then = TurnedEachDay(kTurn),
       .look_again_days = 3,
       .sisters = true,
       .source = kPractice},

      // ---- sticks to board or mat, tears ----
      {.fault = kSticks,
       .rinds = {kFreshAndWhite},
       .words = "sticks.white",
       .then = TurnedEachDay(kTurn),
       .look_again_days = 1,
       .neighbours = true,
       .source = kPractice},
      {.fault = kSticks,
       .rinds = {kNaturalAndPressed, kWashed, kBlue},
       .words = "sticks.board",
       .then = TurnedEachDay(kTurn),
       .look_again_days = 2,
       .neighbours = true,
       .source = kPractice},

      // ---- smell: ammonia above all ----
      {.fault = kSmell,
       .rinds = {kFreshAndWhite},
       .words = "smell.white",
       .look_again_days = 1,
       .sisters = true,
       .source = kAmmonia},
      {.fault = kSmell,
       .rinds = {kNaturalAndPressed, kWashed, kBlue},
       .words = "smell.other",
       .look_again_days = 2,
       .sisters = true,
       .source = kAmmonia},

      // ---- something else: call no mould harmless ----
      {.fault = kSomethingElse,
       .rinds = {kFreshAndWhite, kNaturalAndPressed, kWashed, kBlue},
       .words = "something else",
       .look_again_days = 1,
       .apart = true,
       .neighbours = true,
       .source = kPractice},
  };
}

}  // namespace

const std::vector<FaultAdvice>& FaultCatalogue() {
  static const std::vector<FaultAdvice> catalogue = Catalogue();
  return catalogue;
}

}  // namespace rindwatch::rules
