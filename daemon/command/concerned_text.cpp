#include "daemon/command/concerned_text.hpp"

#include <algorithm>
#include <boost/json.hpp>
#include <tuple>

#include "daemon/book/fields.hpp"
#include "daemon/morning/phrases.hpp"
#include "daemon/words/figures.hpp"
#include "daemon/words/kin_word.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

struct Group {
  std::string family, place, when;
  int count = 0;
};

std::string WhenText(const Words& words, const json::object& concern, std::optional<rules::LocalTime> dark) {
  const auto soonest = fields::MaybeNumber(concern, "soonest"), latest = fields::MaybeNumber(concern, "latest");
  if (const json::value* past = concern.if_contains("past")) {
    const auto bound = [&](const char* name) { return past->as_object().at(name).to_number<double>(); };
    return words.Say("matter.past", {{"band", BandFigure(words, {bound("low"), bound("high"), {}})}});
  }
  if (!soonest) return {};
  const auto span = [](double millis) { return rules::Millis{static_cast<std::int64_t>(millis)}; };
  const auto last = latest ? std::optional(span(*latest)) : std::nullopt;
  return dark ? morning::DarkMatterWords(words, span(*soonest), last, *dark)
              : morning::MatterWords(words, span(*soonest), last);
}

// Those that are told alike are one line.
std::vector<Group> GroupsOf(const Words& words, const json::array& concerns, std::optional<rules::LocalTime> dark) {
  std::vector<Group> groups;
  for (const json::value& item : concerns) {
    const json::object& concern = item.as_object();
    const Group one{fields::TextOr(concern, "family", ""), fields::TextOr(concern, "cave_name", ""),
                    WhenText(words, concern, dark), static_cast<int>(fields::Whole(concern, "count"))};
    const auto alike = std::ranges::find_if(groups, [&](const Group& other) {
      return std::tie(other.family, other.place, other.when) == std::tie(one.family, one.place, one.when);
    });
    if (alike == groups.end())
      groups.push_back(one);
    else
      alike->count += one.count;
  }
  return groups;
}

}  // namespace

std::vector<std::string> ConcernedText(const Words& words, const json::object& told, rules::LocalTime now) {
  const json::value* concerns = told.if_contains("concerns");
  if (!concerns || concerns->as_array().empty()) return {};
  const bool dark = fields::TextOr(told, "kind", "") == rules::ToText(rules::AlarmKind::kPowerGone);
  std::vector<Group> groups = GroupsOf(words, concerns->as_array(), dark ? std::optional(now) : std::nullopt);
  const bool timed = std::ranges::any_of(groups, [](const Group& group) { return !group.when.empty(); });
  const char* matters = dark ? "alarm.it matters dark" : "alarm.it matters";
  std::vector<std::string> lines{words.Say(timed ? matters : "notice.wheels") + ":"};
  // Beside those that a time stands for nobody must take the others for well.
  const bool turning = fields::TruthOr(told, "eases", false) || fields::TruthOr(told, "inside", false);
  for (Group& group : groups) {
    if (timed && !turning && group.when.empty()) group.when = words.Say("matter.not now");
    // Further in: below them stand the steps, which begin with a number too.
    std::string line = "  " + std::to_string(group.count) + " " + KinWord(words, group.family, group.count);
    if (!group.place.empty()) line += ", " + group.place;
    lines.push_back(group.when.empty() ? line : line + ": " + group.when);
  }
  return lines;
}

}  // namespace rindwatch
