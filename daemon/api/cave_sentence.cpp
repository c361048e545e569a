#include "daemon/api/cave_sentence.hpp"

#include <algorithm>

namespace rindwatch {
namespace {

struct Alike {
  const CaveNews* first;
  std::vector<const CaveNews*> caves;
};

bool AreAlike(const CaveNews& a, const CaveNews& b) {
  if (a.state != b.state || !a.unsuited.empty() || !b.unsuited.empty()) return false;
  return a.state == rules::CaveState::kUnknown || (a.of_air == b.of_air && a.side == b.side);
}

const char* KeyOf(rules::CaveState state) {
  switch (state) {
    case rules::CaveState::kUnknown:
      return "sentence.unknown";
    case rules::CaveState::kDrifting:
      return "sentence.drifts";
    case rules::CaveState::kOutOfBand:
      return "sentence.out";
    default:
      return nullptr;
  }
}

// Of what is unknown since when, and why.
std::string UnknownSentence(const Words& words, const CaveNews& cave) {
  const bool dated = !cave.since.empty();
  const char* key = cave.why.empty() ? (dated ? "sentence.unknown since" : "sentence.unknown")
                                     : (dated ? "sentence.unknown since why" : "sentence.unknown why");
  return words.Say(key, {{"cave", cave.cave}, {"time", cave.since}, {"why", cave.why}});
}

// Among others that are unknown: "Cellar (since 01:40, probe Shelf silent)".
std::string NameAmong(const Words& words, const CaveNews& cave) {
  std::string why = cave.since.empty() ? std::string{} : words.Say("since", {{"time", cave.since}});
  if (!cave.why.empty()) why += (why.empty() ? "" : ", ") + cave.why;
  return why.empty() ? cave.cave : words.Say("sentence.unknown one of many", {{"cave", cave.cave}, {"why", why}});
}

// "Fridge", "Fridge, Box 1 and Cellar"
std::string Named(const Words& words, const std::vector<std::string>& caves) {
  if (caves.size() == 1) return caves.front();
  std::string list = caves.front();
  for (std::size_t n = 1; n + 1 < caves.size(); ++n) list += ", " + caves[n];
  return words.Say("morning.and", {{"list", list}, {"last", caves.back()}});
}

}  // namespace

std::string SideWord(const Words& words, bool of_air, int side) {
  if (side > 0) return words.Say(of_air ? "side.warm" : "side.damp");
  return words.Say(of_air ? "side.cold" : "side.dry");
}

std::vector<std::string> CaveSentences(const Words& words, const std::vector<CaveNews>& news) {
  std::vector<Alike> told;
  for (const CaveNews& cave : news) {
    if (!KeyOf(cave.state)) continue;
    const auto known = std::ranges::find_if(told, [&](const Alike& alike) { return AreAlike(*alike.first, cave); });
    if (known == told.end()) {
      told.push_back({&cave, {&cave}});
    } else {
      known->caves.push_back(&cave);
    }
  }
  std::vector<std::string> sentences;
  for (const Alike& alike : told) {
    if (alike.first->state == rules::CaveState::kUnknown && alike.caves.size() == 1) {
      sentences.push_back(UnknownSentence(words, *alike.first));
      continue;
    }
    std::vector<std::string> names;
    names.reserve(alike.caves.size());
    for (const CaveNews* cave : alike.caves) names.push_back(NameAmong(words, *cave));
    const std::string key = std::string(KeyOf(alike.first->state)) + (names.size() > 1 ? " many" : "");
    sentences.push_back(words.Say(
        key, {{"cave", Named(words, names)}, {"side", SideWord(words, alike.first->of_air, alike.first->side)}}));
  }
  for (const CaveNews& cave : news) {
    if (!cave.unsuited.empty())
      sentences.push_back(words.Say("sentence.suits not", {{"cave", cave.cave}, {"wheels", cave.unsuited}}));
  }
  return sentences;
}

std::string KeptSentence(const Words& words, const std::vector<CaveNews>& news) {
  std::vector<std::string> caves;
  for (const CaveNews& cave : news) {
    if (cave.state == rules::CaveState::kInBand) caves.push_back(cave.cave);
  }
  if (caves.empty()) return {};
  return words.Count("caves.keep", caves.size(), {{"caves", Named(words, caves)}});
}

}  // namespace rindwatch
