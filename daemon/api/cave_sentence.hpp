// What the places of a house say of themselves in a sentence, unless they keep their band.
#pragma once

#include <string>
#include <vector>

#include "daemon/words/words.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

struct CaveNews {
  std::string cave;
  rules::CaveState state = rules::CaveState::kNotWatched;
  bool of_air = true;   // what drifts or left its band: the temperature, else the humidity
  int side = 0;         // -1 cold or dry, 1 warm or damp
  std::string since{};  // of what is unknown: "01:40"; empty: nobody knows
  std::string why{};    // "probe Cellar air silent"; likewise
  // Not of its air: wheels that its band has come not to suit, "1 tomme, A3"; empty: it is of its air.
  std::string unsuited{};
};

// "warm", "cold", "damp", "dry"
std::string SideWord(const Words& words, bool of_air, int side);
// "Box 1 drifts damp.", "Cellar is unknown since 01:40: probe Shelf silent."; those alike in one sentence, in the order
// of the first of them. Nothing is said of a place that keeps its band or is not watched.
std::vector<std::string> CaveSentences(const Words& words, const std::vector<CaveNews>& news);
// "Fridge and Cellar keep their band."; empty: none does.
std::string KeptSentence(const Words& words, const std::vector<CaveNews>& news);

}  // namespace rindwatch
