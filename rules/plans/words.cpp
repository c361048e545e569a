#include <array>
#include <utility>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {
namespace {

// Texts are stored and typed by keepers: they never change.
template <typename T, std::size_t N>
using Words = std::array<std::pair<T, std::string_view>, N>;

constexpr Words<CareKind, 17> kCareKinds{{{CareKind::kTurn, "turn"},
                                          {CareKind::kWash, "wash"},
                                          {CareKind::kBrush, "brush"},
                                          {CareKind::kPat, "pat"},
                                          {CareKind::kRub, "rub"},
                                          {CareKind::kSalt, "salt"},
                                          {CareKind::kWipe, "wipe"},
                                          {CareKind::kOil, "oil"},
                                          {CareKind::kCoat, "coat"},
                                          {CareKind::kPierce, "pierce"},
                                          {CareKind::kWrap, "wrap"},
                                          {CareKind::kMove, "move"},
                                          {CareKind::kLook, "look"},
                                          {CareKind::kWeigh, "weigh"},
                                          {CareKind::kWax, "wax"},
                                          {CareKind::kBandage, "bandage"},
                                          {CareKind::kTaste, "taste"}}};

constexpr Words<StartKind, 9> kStartKinds{{{StartKind::kMade, "made"},
                                           {StartKind::kSalted, "salted"},
                                           {StartKind::kDry, "dry"},
                                           {StartKind::kEnteredBox, "entered box"},
                                           {StartKind::kEnteredCave, "entered cave"},
                                           {StartKind::kPierced, "pierced"},
                                           {StartKind::kWrapped, "wrapped"},
                                           {StartKind::kEnteredColdStore, "entered cold store"},
                                           {StartKind::kWaxed, "waxed"}}};

constexpr Words<RindClass, 4> kRindClasses{{{RindClass::kFreshAndWhite, "fresh and white"},
                                            {RindClass::kNaturalAndPressed, "natural and pressed"},
                                            {RindClass::kWashed, "washed"},
                                            {RindClass::kBlue, "blue"}}};

constexpr Words<WheelState, 5> kWheelStates{{{WheelState::kDrying, "drying"},
                                             {WheelState::kRindForming, "rind forming"},
                                             {WheelState::kRipening, "ripening"},
                                             {WheelState::kReady, "ready"},
                                             {WheelState::kHolding, "holding"}}};

template <typename T, std::size_t N>
std::string_view TextOf(const Words<T, N>& words, T value) {
  for (const auto& [known, text] : words) {
    if (known == value) return text;
  }
  return "unknown";
}

template <typename T, std::size_t N>
std::optional<T> ValueOf(const Words<T, N>& words, std::string_view text) {
  for (const auto& [value, known] : words) {
    if (known == text) return value;
  }
  return std::nullopt;
}

}  // namespace

std::string_view ToText(CareKind kind) { return TextOf(kCareKinds, kind); }
std::optional<CareKind> CareKindFrom(std::string_view text) { return ValueOf(kCareKinds, text); }

std::string_view ToText(StartKind kind) { return TextOf(kStartKinds, kind); }
std::optional<StartKind> StartKindFrom(std::string_view text) { return ValueOf(kStartKinds, text); }

std::string_view ToText(RindClass rind) { return TextOf(kRindClasses, rind); }
std::optional<RindClass> RindClassFrom(std::string_view text) { return ValueOf(kRindClasses, text); }

std::string_view ToText(WheelState state) { return TextOf(kWheelStates, state); }
std::optional<WheelState> WheelStateFrom(std::string_view text) { return ValueOf(kWheelStates, text); }

}  // namespace rindwatch::rules
