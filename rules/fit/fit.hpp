// Whether a wheel suits the cave it is to lie in: who can share a band there, whom it costs what, and what would help.
// Typed facts; pure.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/ids.hpp"
#include "rules/plans/plan.hpp"
#include "rules/release/qualifying.hpp"
#include "rules/time.hpp"

namespace rindwatch::rules {

struct Bands {
  std::optional<Figure> temperature, humidity;
};

// Of a stage still to come, in this same place.
struct BandsFrom {
  Date from;
  Bands bands;
};

// Wheels of one family at one stage, or the newcomer.
struct FitGuest {
  std::string family;
  int count = 1;
  int hardiness = 2;  // Plan::hardiness: the lower is judged first
  int age = 0;        // days since made; of two alike the younger is judged first
  RindClass rind = RindClass::kNaturalAndPressed;
  Bands bands;
  std::vector<BandsFrom> coming{};  // ascending
  CaveId cave = 0;                  // where it lies
  bool same_air = true;             // shares the humidity with the newcomer; false: only the temperature (another box)
};

enum class FitChannel { kTemperature, kHumidity };
std::string_view ToText(FitChannel channel);

// Who would live outside its band, and how far, while the most delicate has its own.
struct FitCost {
  std::string family;
  int count = 0;
  FitChannel channel = FitChannel::kTemperature;
  int side = 1;   // +1: too warm or too damp for it; -1: too cold or too dry
  double by = 0;  // degrees or points
  bool newcomer = false;
  std::vector<CaveId> caves{};  // where they lie, each once; empty for the newcomer
};

// What will cost whom what, once stages to come have begun.
struct FitLater {
  Date from;
  FitCost cost;
};

enum class FitAdvice {
  kOwnBox,        // a box of its own ends a quarrel over humidity
  kOtherCave,     // a quarrel over temperature ends only in another cave
  kBlueShutBox,   // blue: its own box, shut: its spores settle on everything
  kBlueLast,      // blue: the last place in the round
  kAwayFromBlue,  // blue lies in this air already
};
std::string_view ToText(FitAdvice advice);

struct Fit {
  Bands shared;  // what all could keep; none: nobody asks for the channel, or nothing is left
  std::vector<FitCost> costs;
  std::vector<FitAdvice> advice;
};

// `in_box`: the cave is a box already.
Fit FitFor(const FitGuest& newcomer, const std::vector<FitGuest>& there, bool in_box);

// What costs nobody anything now and will, by the stages to come, because the newcomer lies there: each once, from the
// first day on, the soonest first.
std::vector<FitLater> FitToCome(const FitGuest& newcomer, const std::vector<FitGuest>& there);
// Does a part begin by bringing the wheel elsewhere? What begins there concerns no one here.
bool LeavesFor(const Part& part, bool from_counter);

// The bands that one made on `made` asks for on `day`, as the plan usually goes; where its stage then has none, those
// of the first later stage that has.
Bands UsualBandsOn(const Plan& plan, Date made, Date day);
// The bands of its stages after `day`, until it would be brought elsewhere.
std::vector<BandsFrom> UsualBandsAfter(const Plan& plan, Date made, Date day, bool from_counter);
// Its states from day to day, as the plan usually goes.
std::vector<StateFrom> UsualStatesOf(const Plan& plan, Date made);

}  // namespace rindwatch::rules
