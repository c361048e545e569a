#include "daemon/words/bar.hpp"

namespace rindwatch {

std::string_view ToText(Bar bar) { return bar == Bar::kGas ? "gas" : "power"; }

std::string BarredWords(const Words& words, const BarredLines& barred) {
  std::string text;
  if (barred.gas > 0) text = words.Count("round.barred lines gas", barred.gas);
  if (barred.power > 0) text += (text.empty() ? "" : " ") + words.Count("round.barred lines power", barred.power);
  return text;
}

}  // namespace rindwatch
