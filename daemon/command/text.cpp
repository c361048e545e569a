#include "daemon/command/text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "daemon/book/fields.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

std::string Text(const json::object& object, const char* name) { return fields::TextOr(object, name, ""); }

std::string Verbs(const Words& words, const json::object& line, const char* name) {
  std::string text;
  for (const json::value& kind : line.at(name).as_array()) {
    if (!text.empty()) text += ", ";
    text += words.Say("care." + std::string(kind.as_string()));
  }
  return text;
}

// "Thursday 26 November"
std::string LongDay(const Words& words, const std::string& day) {
  const auto date = DayFrom(day);
  if (!date) return day;
  const std::chrono::year_month_day ymd{*date};
  return fmt::format("{} {} {}", words.Say(fmt::format("weekday.{}", rules::WeekdayOf(*date).iso_encoding())),
                     static_cast<unsigned>(ymd.day()),
                     words.Say(fmt::format("month.{}", static_cast<unsigned>(ymd.month()))));
}

std::string Weekday(const Words& words, const std::string& day) {
  const auto date = DayFrom(day);
  return date ? words.Say(fmt::format("weekday.{}", rules::WeekdayOf(*date).iso_encoding())) : day;
}

std::string What(const json::object& line) {
  const std::string lot = Text(line, "lot");
  const std::string what = lot.empty() ? Text(line, "family") : "lot " + lot;
  return fmt::format("{}, day {}", what, line.at("day").to_number<int>());
}

std::string RoundLineText(const Words& words, const json::object& line) {
  const std::string state = Text(line, "state");
  std::string care = Verbs(words, line, "kinds");
  if (state == "skipped") care = "(" + care + ")";
  if (state == "retired" || state == "not done") care += " " + words.Say("round." + state);
  std::string text =
      fmt::format("{:<9} {:<16}{:>3}   {}", Text(line, "place"), care, line.at("wheels").as_array().size(), What(line));
  if (state == "done") text += ", " + words.Say("text.done");
  text += "\n";
  if (const std::string since = Text(line, "late_since"); !since.empty() && state == "late") {
    text += fmt::format("{:<9} > {}\n", "", words.Say("round.due", {{"day", Weekday(words, since)}}));
  }
  if (!line.at("done_kinds").as_array().empty() && state != "done") {
    text += fmt::format("{:<9} > {} {}\n", "", words.Say("text.done"), Verbs(words, line, "done_kinds"));
  }
  if (const std::string reason = Text(line, "reason"); !reason.empty()) text += fmt::format("{:<9} > {}\n", "", reason);
  return text;
}

std::string QuestionText(const json::object& question) {
  return fmt::format("{:<9} {}   {}\n", Text(question, "place"), Text(question, "text"), What(question));
}

// Humidity in whole points; above 93 no probe is that exact.
std::string HumidityText(double percent) { return percent > 93 ? "93+ %" : fmt::format("{:.0f} %", percent); }

std::string Figures(const json::object& cave) {
  const json::object& temperature = cave.at("temperature").as_object();
  const json::object& humidity = cave.at("humidity").as_object();
  std::string text;
  if (const auto mean = fields::MaybeNumber(temperature, "mean")) text += fmt::format("{:.1f} °C", *mean);
  if (const auto mean = fields::MaybeNumber(humidity, "mean")) text += (text.empty() ? "" : ", ") + HumidityText(*mean);
  return text;
}

std::string CavesText(const Words& words, const json::object& caves) {
  std::string text;
  for (const json::value& item : caves.at("caves").as_array()) {
    const json::object& cave = item.as_object();
    text +=
        fmt::format("{:<9} {:<15} {}\n", Text(cave, "name"), words.Say("state." + Text(cave, "state")), Figures(cave));
  }
  return text;
}

std::string AlarmsText(const Words& words, const json::object& head) {
  std::string text;
  for (const json::value& item : head.at("alarms").as_array()) {
    const json::object& alarm = item.as_object();
    text += fmt::format("!! {} {}\n", Text(alarm, "cave_name"), words.Say("alarm." + Text(alarm, "kind")));
    int number = 0;
    if (alarm.contains("over")) continue;
    for (const json::value& thing : alarm.at("first").as_array()) {
      text += fmt::format("   {}  {}\n", ++number, std::string_view(thing.as_string()));
    }
  }
  return text;
}

std::string Opening(const Words& words, const json::object& head) {
  std::string text = Text(head, "sentence") + "\n";
  if (head.at("trial").as_bool()) text += words.Say("told.trial.plain") + ".\n";
  for (const json::value& trouble : head.at("troubles").as_array()) text += Text(trouble.as_object(), "text") + "\n";
  return text;
}

}  // namespace

std::string RoundText(const Words& words, const json::object& round, const json::object& caves) {
  const json::object& head = round.at("head").as_object();
  std::string text = LongDay(words, Text(head, "day")) + "\n\n" + Opening(words, head);
  if (const std::string alarms = AlarmsText(words, head); !alarms.empty()) text += "\n" + alarms;
  std::string lines, rind;
  for (const json::value& item : round.at("lines").as_array()) {
    const json::object& line = item.as_object();
    if (Text(line, "rind") != rind) {
      rind = Text(line, "rind");
      lines += fmt::format("{:<9} {}\n", "", words.Say("rinds." + rind));
    }
    lines += RoundLineText(words, line);
  }
  for (const json::value& question : round.at("questions").as_array()) lines += QuestionText(question.as_object());
  if (!lines.empty()) text += "\n" + lines;
  if (const std::string standing = CavesText(words, caves); !standing.empty()) text += "\n" + standing;
  return text;
}

std::string NowText(const Words& words, const json::object& caves) {
  const json::object& head = caves.at("head").as_object();
  std::string text = Opening(words, head);
  if (const std::string alarms = AlarmsText(words, head); !alarms.empty()) text += "\n" + alarms;
  if (const std::string standing = CavesText(words, caves); !standing.empty()) text += "\n" + standing;
  return text;
}

}  // namespace rindwatch
