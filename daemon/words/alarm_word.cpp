#include "daemon/words/alarm_word.hpp"

#include <fmt/format.h>

#include <cmath>

namespace rindwatch {

bool Asks(rules::AlarmKind kind, rules::Why why) {
  return kind == rules::AlarmKind::kDoorOpen && why == rules::Why::kAfterRound;
}

bool StaysUnknown(rules::AlarmKind kind) {
  using enum rules::AlarmKind;
  return kind == kProbeSilent || kind == kProbeStuck || kind == kProbeWet;
}

std::string UnknownAfter(const Words& words, rules::AlarmKind kind) {
  if (!StaysUnknown(kind)) return {};
  return words.Say(kind == rules::AlarmKind::kProbeWet ? "stays unknown.wet" : "stays unknown");
}

std::string DoubtWords(const Words& words, const rules::Alarm& alarm) {
  std::string text;
  if (alarm.kind != rules::AlarmKind::kProbeStuck && alarm.kind != rules::AlarmKind::kProbeWet) return text;
  for (const rules::ProbeSaid& said : alarm.said) {
    const char* key = said.kind == rules::ChannelKind::kHumidity ? "stuck.humidity" : "stuck.temperature";
    text += (text.empty() ? "" : ", ") + words.Say(key, {{"value", fmt::format("{:.1f}", said.value)}});
  }
  return text;
}

std::string AlarmWord(const Words& words, rules::AlarmKind kind, rules::Why why, bool never_left) {
  if (why == rules::Why::kPlanStep) return words.Say("alarm.step." + std::string(rules::ToText(kind)));
  if (kind == rules::AlarmKind::kPlantWeak && why == rules::Why::kDayMeanUp) return words.Say("alarm.kept warmer");
  if (never_left)
    return words.Say(kind == rules::AlarmKind::kTooCold ? "alarm.getting colder" : "alarm.getting warmer");
  return words.Say(Asks(kind, why) ? "alarm.perhaps ajar" : "alarm." + std::string(rules::ToText(kind)));
}

std::string AlarmWord(const Words& words, const rules::Alarm& alarm) {
  return AlarmWord(words, alarm.kind, alarm.why, rules::NeverLeft(alarm));
}

std::string WhyWords(const Words& words, const rules::Alarm& alarm) {
  using enum rules::Why;
  const auto number = [](double value) { return fmt::format("{:.1f}", value); };
  if (alarm.kind == rules::AlarmKind::kCondensation && !alarm.over)
    return words.Say(alarm.value < 0 ? "why.dew.below" : "why.dew.above", {{"value", number(std::abs(alarm.value))}});
  if (alarm.why == kBand || alarm.why == kPlanStep) return {};
  // A time that nobody watched and whose end came late.
  if (alarm.why == kUnheard && alarm.over) return words.Say("why.unheard.over");
  if (alarm.why == kWarmedMeanwhile && alarm.before && alarm.value < *alarm.before)
    return words.Say("why.cooled meanwhile");
  const double value = alarm.over ? alarm.extreme : alarm.value;
  return words.Say("why." + std::string(rules::ToText(alarm.why)),
                   {{"share", std::to_string(std::lround(value * 100))}, {"up", number(value)}});
}

namespace {

std::string MostSaid(const Words& words, const rules::Alarm& alarm, const std::string& form) {
  if (!alarm.over || alarm.kind != rules::AlarmKind::kPlantWeak) return {};
  if (alarm.why != rules::Why::kDayMeanUp && alarm.why != rules::Why::kSlowFall) return {};
  return words.Say(
      "furthest." + std::string(rules::ToText(alarm.why)) + form,
      {{"up", fmt::format("{:.1f}", alarm.extreme)}, {"share", std::to_string(std::lround(alarm.extreme * 100))}});
}

}  // namespace

std::string MostWords(const Words& words, const rules::Alarm& alarm) { return MostSaid(words, alarm, ""); }

std::string MostSentence(const Words& words, const rules::Alarm& alarm) { return MostSaid(words, alarm, ".said"); }

std::vector<std::string> FirstSteps(const Words& words, rules::AlarmKind kind, rules::Knowing knowing,
                                    std::string_view place) {
  const std::string plain = "first." + std::string(rules::ToText(kind)) + ".";
  const std::string known = plain + std::string(rules::ToText(knowing)) + ".";
  const std::string there = std::string(place) + ".";
  std::string steps = plain;
  // What holds for every kind, as gas does, comes before what a kind alone would ask.
  const std::string any = "first." + std::string(rules::ToText(knowing)) + ".";
  for (const std::string& key : {known + there, known, any, plain + there}) {
    if (!words.Has(key + "1")) continue;
    steps = key;
    break;
  }
  std::vector<std::string> things;
  for (const char* number : {"1", "2", "3"}) {
    if (words.Has(steps + number)) things.push_back(words.Say(steps + number));
  }
  return things;
}

std::string BegunUnwatchedWords(const Words& words, const std::string& last, const std::string& from,
                                const std::string& to) {
  if (last == from) return words.Say("alarm.unwatched begun", {{"from", from}, {"to", to}});
  return words.Say("alarm.unwatched begun apart", {{"last", last}, {"from", from}, {"to", to}});
}

std::string ProbesWords(const Words& words, const std::vector<std::pair<std::string, std::string>>& who) {
  std::string said;
  for (const auto& [probe, figure] : who) {
    if (!said.empty()) said += ", ";
    said += probe;
    if (!probe.empty() && !figure.empty()) said += ' ';
    said += figure;
  }
  return said.empty() ? said : words.Say("alarm.said", {{"said", said}});
}

}  // namespace rindwatch
