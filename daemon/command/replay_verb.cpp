#include "daemon/command/replay_verb.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/clock/clocks.hpp"
#include "daemon/command/config_places.hpp"
#include "daemon/command/verbs.hpp"
#include "daemon/house/house.hpp"
#include "daemon/replay/limits_file.hpp"
#include "daemon/replay/report_json.hpp"
#include "daemon/replay/sentences.hpp"
#include "daemon/replay/span.hpp"
#include "daemon/store/record.hpp"
#include "daemon/words/alarm_word.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::CaveId;
using rules::Instant;

namespace {

// The caves of the database by number, as they are called now.
CaveNames CavesIn(const std::string& database, const rules::DayTurn& home) {
  Book book(home);
  Record::Open(database)->ReadFacts(Instant::max(), [&](const JournalLine& line, const Fact& fact) {
    if (fact.subject_kind == "cave" || fact.subject_kind == "act") book.Take(line, fact);
  });
  CaveNames caves;
  for (const CaveRow* cave : book.Caves()) caves[cave->id] = cave->name;
  return caves;
}

std::string FileText(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error(fmt::format("{}: the limits cannot be read; does the file exist?", path));
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::vector<OtherLimits> OtherOf(const ReplayVerb& verb, const CaveNames& caves, std::optional<CaveId> cave) {
  std::vector<OtherLimits> all;
  if (!verb.limits.empty()) all = ReadLimits(FileText(verb.limits), verb.limits, caves);
  OtherLimits typed;
  typed.cave = cave;
  if (!verb.temperature.empty()) typed.temperature = SpanOf(verb.temperature, SpanKind::kTemperature, "--temperature");
  if (!verb.humidity.empty()) typed.humidity = SpanOf(verb.humidity, SpanKind::kHumidity, "--humidity");
  for (const std::string& channel : verb.of_wheels) PutOfWheels(ChannelNamed(channel, "--of-wheels"), typed);
  for (const std::string& setting : verb.settings) typed.settings.push_back(SettingOf(setting, "--set"));
  for (const std::string& name : verb.off) typed.off.push_back(KindNamed(name, "--off"));
  for (const std::string& name : verb.judged) typed.judged.push_back(KindNamed(name, "--judged"));
  typed.ready_cheese = verb.ready_cheese;
  CheckSound(typed, "What is typed");
  if (typed.Tries()) all.push_back(std::move(typed));
  return all;
}

ReplayCall CallOf(const ReplayVerb& verb, const std::string& database, const rules::DayTurn& home) {
  const CaveNames caves = CavesIn(database, home);
  ReplayCall call;
  if (!verb.cave.empty()) call.cave = CaveNamed(caves, verb.cave, "--cave");
  // Of the readings there are: a database that was put aside is asked about its own last months.
  const auto record = Record::Open(database);
  const auto first = record->First(), last = record->Last();
  if (!first || !last) throw std::runtime_error(fmt::format("Nothing was kept in {} yet.", database));
  const ReplaySpan span = SpanOfDays({verb.from, verb.to, verb.days}, *first, *last, home);
  call.from = span.from;
  call.to = span.to;
  call.other = OtherOf(verb, caves, call.cave);
  call.whole = verb.whole;
  return call;
}

void PrintAlarms(const Words& words, const std::vector<Rung>& alarms, const rules::DayTurn& home,
                 const CaveNames& caves) {
  for (const Rung& alarm : alarms) {
    const auto cave = caves.find(alarm.cave);
    const std::string worse = alarm.told.size() < 2
                                  ? ""
                                  : words.Say("replay.worse", {{"severity", std::string(ToText(alarm.severity))},
                                                               {"time", MinuteText(alarm.told.back(), home)}});
    fmt::print("  {}  {:<7} {}, {}{}{}\n", MinuteText(alarm.raised, home), ToText(alarm.severity),
               cave == caves.end() ? std::to_string(alarm.cave) : cave->second,
               AlarmWord(words, alarm.kind, alarm.why, alarm.never_left), worse,
               alarm.called.empty() ? "" : " (" + WhatWord(words, alarm.called) + ")");
  }
}

void PrintLines(const std::string& said, const std::vector<std::string>& lines) {
  fmt::print("{}\n", said);
  for (const std::string& line : lines) fmt::print("  {}\n", line);
}

void PrintDifferences(const Words& words, const ReplayReport& report, const rules::DayTurn& home) {
  if (report.differences.empty()) return PrintLines(words.Say("replay.identical"), {});
  if (!report.by_other_rules.empty()) PrintLines(RulesSentence(words, report, home), report.by_other_rules);
  const std::vector<std::string> bare = report.BareDifferences();
  if (bare.empty()) return;
  PrintLines(words.Say(report.by_other_rules.empty() ? "replay.different" : "replay.different too"), bare);
}

void PrintReport(const ReplayReport& report, const rules::DayTurn& home, const CaveNames& caves, bool changed) {
  const Words& words = Words::English();
  fmt::print("{}\n", words.Count("replay.span", report.readings,
                                 {{"from", MinuteText(report.from, home)}, {"to", MinuteText(report.to, home)}}));
  if (changed) {
    fmt::print("{}\n", ReplaySentence(words, report, ""));
  } else {
    const Tally tally = TallyOf(report.now);
    const auto quiet = static_cast<std::size_t>(tally.watch) + static_cast<std::size_t>(tally.hint);
    const std::string besides = quiet > 0 ? " " + words.Count("replay.quiet", quiet) : std::string{};
    fmt::print("{}{}\n", TallySentence(words, tally), besides);
    PrintDifferences(words, report, home);
  }
  PrintAlarms(words, report.now, home, caves);
}

bool RunReplay(const Config& config, const ReplayVerb& verb) {
  if (!std::filesystem::is_regular_file(config.database))
    throw std::runtime_error(
        fmt::format("There is no database file at {}; name the right configuration with --config.{}", config.database,
                    WhereLooked(config)));
  const rules::DayTurn home = HomeOf(config);
  if (verb.names) {
    fmt::print("{}", AllNames(CavesIn(config.database, home)));
    return true;
  }
  const ReplayCall call = CallOf(verb, config.database, home);
  const bool changed = !call.other.empty();
  const ReplayReport report = Replay(config.database, home, call, std::atomic<bool>{false});
  if (verb.json)
    fmt::print("{}\n", json::serialize(ReportJson(report, changed)));
  else
    PrintReport(report, home, CavesIn(config.database, home), changed);
  return report.BareDifferences().empty();
}

}  // namespace

void AddReplayVerb(CLI::App& app, ReplayVerb& call, const std::function<void(CLI::App&)>& add_config,
                   const std::function<Config()>& config, const std::function<void(bool well)>& done) {
  CLI::App* verb = app.add_subcommand("replay", "The rules again over stored readings: what would have rung");
  add_config(*verb);
  verb->add_flag("--json", call.json, "Print data as JSON, with the rates of ISA-18.2 and IEC 62682");
  verb->add_option("--from", call.from, "First day, such as 2026-08-25");
  verb->add_option("--to", call.to, "The day after the last (else until the newest reading)");
  verb->add_option("--days", call.days, "Without --from: so many days back")
      ->check(CLI::Range(1, 3660))
      ->capture_default_str();
  verb->add_option("--cave", call.cave, "Only this cave, by name or number");
  verb->add_option("--temperature", call.temperature, "Try this span of temperature, such as 10-14");
  verb->add_option("--humidity", call.humidity, "Try this span of humidity, such as 80-92");
  verb->add_option("--of-wheels", call.of_wheels,
                   "Try the wheels' own band again: temperature or humidity; may be repeated")
      ->allow_extra_args(false);
  verb->add_option("--set", call.settings, "Try another limit or delay: \"door: act after=30\"; may be repeated")
      ->allow_extra_args(false);
  verb->add_option("--off", call.off, "Do not judge this kind of alarm: \"too damp\"; may be repeated")
      ->allow_extra_args(false);
  verb->add_option("--judged", call.judged, "Judge this kind of alarm again: \"too damp\"; may be repeated")
      ->allow_extra_args(false);
  verb->add_option("--ready-cheese", call.ready_cheese, "Try finished cheese, kept cold: true; or false");
  verb->add_option("--limits", call.limits, "Try what this file says (TOML: format = 1 and a [[cave]] for each)");
  verb->add_flag("--whole", call.whole, "Work it out from the first reading on, not from 35 days before what is asked");
  verb->add_flag("--names", call.names, "List the caves, kinds of alarm and limits that can be named, and end");
  verb->footer(
      "Works beside a running daemon and changes nothing. Unchanged, it ends with 1 if the journal says otherwise, "
      "unless another version of the rules wrote that.");
  verb->callback([&call, config, done] {
    SetUpLog("warn");
    done(RunReplay(config(), call));
  });
}

}  // namespace rindwatch
