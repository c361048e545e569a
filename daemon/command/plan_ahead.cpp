#include "daemon/command/plan_ahead.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "daemon/api/plan_changes.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/command/asking.hpp"
#include "daemon/words/moments.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

constexpr std::size_t kDay = 10, kKinds = 29;  // columns

std::string Text(const json::object& object, const char* name) { return std::string(object.at(name).as_string()); }

// "Tomme 3, lot 214, A2"
std::string NameOf(const Words& words, const json::object& wheel) {
  std::string name = Text(wheel, "name");
  if (!Text(wheel, "lot").empty()) name += ", " + words.Say("round.lot", {{"lot", Text(wheel, "lot")}});
  return Text(wheel, "place").empty() ? name : name + ", " + Text(wheel, "place");
}

std::map<std::string, std::string> ByDay(const Words& words, const json::object& preview, const char* side) {
  std::map<std::string, std::string> days;
  for (const json::value& value : preview.at(side).as_array()) {
    const json::object& day = value.as_object();
    std::vector<rules::CareKind> kinds;
    for (const json::value& kind : day.at("kinds").as_array()) {
      if (const auto known = rules::CareKindFrom(std::string(kind.as_string()))) kinds.push_back(*known);
    }
    if (!kinds.empty()) days[Text(day, "day")] = KindsWords(words, kinds);
  }
  return days;
}

std::string Row(const std::string& day, const std::string& before, const std::string& after) {
  std::string row = fmt::format("  {:<{}}{:<{}}{}", day, kDay, before, kKinds, after);
  row.erase(row.find_last_not_of(' ') + 1);
  return row + "\n";
}

std::string DaysWords(const Words& words, const json::object& preview) {
  const auto before = ByDay(words, preview, "before"), after = ByDay(words, preview, "after");
  std::set<std::string> days;
  for (const auto* side : {&before, &after}) {
    for (const auto& [day, kinds] : *side) days.insert(day);
  }
  const auto at = [](const auto& side, const std::string& day) {
    const auto found = side.find(day);
    return found == side.end() ? std::string("-") : found->second;
  };
  std::string text = Row("", words.Say("plans.before"), words.Say("plans.after"));
  for (const std::string& day : days)
    text += Row(ShortDay(words, DayFrom(day).value()), at(before, day), at(after, day));
  return days.empty() ? text + Row("", words.Say("plans.nothing asked"), words.Say("plans.nothing asked")) : text;
}

}  // namespace

std::string AheadWords(const Words& words, const std::vector<WheelAhead>& wheels, const std::string& plan_id,
                       const std::string& family) {
  std::string text;
  for (const WheelAhead& one : wheels) {
    if (Text(one.wheel.at("plan").as_object(), "id") == plan_id) continue;
    text += "! " +
            words.Say("plans.other family",
                      {{"wheel", NameOf(words, one.wheel)}, {"was", Text(one.wheel, "family")}, {"family", family}}) +
            "\n";
  }
  std::vector<std::pair<std::string, std::string>> alike;  // the days, and whose they are
  for (const WheelAhead& one : wheels) {
    const std::string days = DaysWords(words, one.preview);
    const auto known = std::ranges::find(alike, days, [](const auto& entry) { return entry.first; });
    if (known == alike.end()) {
      alike.emplace_back(days, NameOf(words, one.wheel));
    } else {
      known->second += "; " + NameOf(words, one.wheel);
    }
  }
  for (const auto& [days, names] : alike) text += words.Say("plans.next days", {{"wheels", names}}) + "\n" + days;
  return text;
}

std::vector<WheelAhead> AskAhead(const Config& config, const std::string& plan_id, int version, const std::string& text,
                                 const std::vector<std::int64_t>& wheels) {
  const json::array all = AskDaemon(config, "/api/wheels").at("wheels").as_array();
  std::vector<WheelAhead> ahead;
  for (const std::int64_t id : wheels) {
    const auto found = std::ranges::find_if(
        all, [id](const json::value& wheel) { return wheel.as_object().at("id").to_number<std::int64_t>() == id; });
    if (found == all.end()) {
      throw std::runtime_error(fmt::format("There is no wheel {} in the book, or it is gone. Nothing was kept.", id));
    }
    json::object asked{{"plan", plan_id}, {"version", version}, {"text", text}, {"wheel", id}};
    ahead.push_back({found->as_object(), AskDaemonAbout(config, "/api/plans/preview", asked)});
  }
  return ahead;
}

}  // namespace rindwatch
