#include "daemon/words/figures.hpp"

#include <fmt/format.h>

#include "rules/alarms/first.hpp"

namespace rindwatch {

std::string TemperatureFigure(double celsius) { return fmt::format("{:.1f} °C", celsius); }

std::string HumidityFigure(double percent) { return percent > 93 ? "93+ %" : fmt::format("{:.0f} %", percent); }

std::string BandFigure(const Words& words, const rules::Figure& band) {
  return words.Say("span", {{"low", fmt::format("{}", band.low)}, {"high", fmt::format("{}", band.high)}});
}

bool HasFigure(rules::AlarmKind kind) { return rules::IsOfBand(kind) || rules::IsGas(kind); }

bool HasFurthest(const rules::Alarm& alarm) {
  return HasFigure(alarm.kind) || (alarm.kind == rules::AlarmKind::kDoorOpen && !alarm.own.empty());
}

std::string AlarmFigure(const Words& words, rules::AlarmKind kind, double value) {
  if (rules::IsOfWarmth(kind) || kind == rules::AlarmKind::kDoorOpen) return TemperatureFigure(value);
  if (rules::IsGas(kind)) return words.Say("figure.ppm", {{"value", fmt::format("{:.0f}", value)}});
  if (kind == rules::AlarmKind::kBatteryLow) return fmt::format("{:.0f} %", value);
  return HumidityFigure(value);
}

std::string FigureAgainst(const Words& words, rules::AlarmKind kind, double value, const rules::Figure& band) {
  const double edge = value > band.high ? band.high : band.low;
  std::string figure = AlarmFigure(words, kind, value);
  const bool beyond = value > band.high || value < band.low;
  if (!beyond || figure != AlarmFigure(words, kind, edge)) return figure;
  // Above 93 all figures of humidity look alike.
  if (figure == HumidityFigure(100)) return figure;
  return words.Say(value > band.high ? "figure.just above" : "figure.just below", {{"value", figure}});
}

std::string WeightWords(double grams) {
  if (grams < 1000) return fmt::format("{:.0f} g", grams);
  std::string kilograms = fmt::format("{:.2f}", grams / 1000);
  while (kilograms.ends_with('0')) kilograms.pop_back();
  if (kilograms.ends_with('.')) kilograms.pop_back();
  return kilograms + " kg";
}

}  // namespace rindwatch
