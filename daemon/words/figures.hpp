// Figures with their units, and which alarms have one. Pure.
#pragma once

#include <string>

#include "daemon/words/words.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

std::string TemperatureFigure(double celsius);  // "15.9 °C"
// In whole points; above 93 no probe is that exact: "93+ %".
std::string HumidityFigure(double percent);
std::string WeightWords(double grams);  // "250 g", "2.31 kg"

std::string BandFigure(const Words& words, const rules::Figure& band);  // "10.5 to 14.5"

// Whether an alarm of this kind has a figure of now, with a band to keep.
bool HasFigure(rules::AlarmKind kind);
// Whether it keeps how far air and wheels came: what has a figure, and a door where wheels lie.
bool HasFurthest(const rules::Alarm& alarm);
std::string AlarmFigure(const Words& words, rules::AlarmKind kind, double value);  // "15.9 °C", "2600 ppm"
// The same beside the band that it is held against: what lies beyond an edge but is written like it is "just above
// 14.5 °C".
std::string FigureAgainst(const Words& words, rules::AlarmKind kind, double value, const rules::Figure& band);

}  // namespace rindwatch
