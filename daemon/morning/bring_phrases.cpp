#include "daemon/morning/phrases.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/morning/phrase_parts.hpp"

namespace rindwatch::morning {

namespace {

// "16 g salt in 500 mL, 8 mL cider"
std::string MixingWords(const Words& words, const Wash& wash) {
  const std::string water = words.Say("bring.ml", {{"ml", std::to_string(wash.water_ml)}});
  std::string text = wash.salt_grams > 0
                         ? words.Say("bring.salt", {{"salt", std::to_string(wash.salt_grams)}, {"water", water}})
                         : water;
  for (const auto& [name, ml] : wash.additions)
    text += ", " + words.Say("bring.addition", {{"ml", std::to_string(ml)}, {"name", name}});
  return text;
}

// "B1", "B1, B2", "B1 to B6"
std::string PlacesWords(const Words& words, std::vector<std::string> places) {
  constexpr std::size_t kMost = 3;
  std::vector<std::string> each;
  for (std::string& place : places) {
    if (std::ranges::find(each, place) == each.end()) each.push_back(std::move(place));
  }
  if (each.size() <= kMost) return Join(each, ", ");
  return words.Say("span", {{"low", each.front()}, {"high", each.back()}});
}

// Those alike are said once; for whom, where there are others that could be taken for them.
std::string WashWords(const Words& words, const std::vector<Wash>& washes) {
  std::vector<std::pair<std::string, std::vector<const Wash*>>> mixings;
  for (const Wash& wash : washes) {
    const std::string mixing = MixingWords(words, wash);
    const auto known = std::ranges::find(mixings, mixing, [](const auto& one) { return one.first; });
    if (known == mixings.end()) {
      mixings.push_back({mixing, {&wash}});
    } else {
      known->second.push_back(&wash);
    }
  }
  std::vector<std::string> parts;
  for (auto& [text, alike] : mixings) {
    const auto count = alike.size();
    if (count == 2) text = words.Say("bring.twice") + " " + text;
    if (count > 2) text = words.Say("bring.times", {{"count", std::to_string(count)}}) + " " + text;
    std::vector<std::string> places;
    places.reserve(count);
    for (const Wash* wash : alike) places.push_back(PlacesWords(words, wash->places));
    if (mixings.size() > 1) text = words.Say("bring.for", {{"mixing", text}, {"places", Join(places, ", ")}});
    parts.push_back(text);
  }
  if (parts.empty()) return {};
  return words.Say(parts.size() > 1 ? "morning.boiled.all" : "morning.boiled", {{"washes", Join(parts, "; ")}});
}

bool IsBrush(rules::Tool tool) {
  return tool == rules::Tool::kSoftBrush || tool == rules::Tool::kBrush || tool == rules::Tool::kOwnBrush;
}

std::string ToolWords(const Words& words, const Bring& bring, rules::Tool tool) {
  if (tool == rules::Tool::kOwnBrush && !bring.own_brush_for.empty())
    return words.Say("morning.own brush", {{"place", bring.own_brush_for}});
  return words.Say("tool." + std::string(rules::ToText(tool)));
}

}  // namespace

std::vector<std::string> BringWords(const Words& words, const Bring& bring) {
  std::vector<std::string> things;
  if (bring.cloths > 0) things.push_back(words.Count("bring.cloths", static_cast<std::size_t>(bring.cloths)));
  for (const rules::Tool tool : bring.tools) {
    if (IsBrush(tool)) things.push_back(ToolWords(words, bring, tool));
  }
  if (bring.mask) things.push_back(words.Say("morning.mask"));
  for (const rules::Tool tool : bring.tools) {
    if (!IsBrush(tool)) things.push_back(ToolWords(words, bring, tool));
  }
  if (bring.two_people) things.push_back(words.Say("bring.two people"));
  std::vector<std::string> parts;
  for (const std::string& part : {WashWords(words, bring.washes), Join(things, ", ")}) {
    if (!part.empty()) parts.push_back(part);
  }
  return parts;
}

}  // namespace rindwatch::morning
