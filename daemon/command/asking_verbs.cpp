#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <fstream>
#include <stdexcept>
#include <vector>

#include "daemon/book/fields.hpp"
#include "daemon/command/asking.hpp"
#include "daemon/command/text.hpp"
#include "daemon/command/verbs.hpp"
#include "daemon/morning/columns.hpp"

namespace rindwatch {

void PrintNow(const Config& config, bool as_json) {
  const auto caves = AskDaemon(config, "/api/caves");
  fmt::print("{}", as_json ? boost::json::serialize(caves) + "\n" : NowText(Words::English(), caves));
}

namespace {

void WriteFile(const std::string& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary | std::ios::trunc);
  file << text;
  file.close();
  if (!file) throw std::runtime_error(fmt::format("{} cannot be written: is its folder there, and yours?", path));
}

void PrintCalendar(const Config& config, const RoundCall& call) {
  Query query;
  if (call.days > 0) query["days"] = std::to_string(call.days);
  const std::string calendar = AskDaemonText(config, "/api/round/calendar", query);
  if (call.ics == "-") {
    fmt::print("{}", calendar);
  } else {
    WriteFile(call.ics, calendar);
  }
}

// The days that are asked for, as queries; today by itself.
std::vector<Query> DaysOf(const Config& config, const RoundCall& call) {
  if (call.days <= 1 && call.date.empty()) return {Query{}};
  auto day = DayFrom(call.date);
  if (!call.date.empty() && !day)
    throw std::runtime_error(fmt::format("\"{}\" is no date; expected one such as 2026-11-28.", call.date));
  if (!day) day = DayFrom(std::string_view(AskDaemon(config, "/api/round").at("day").as_string()));
  std::vector<Query> days;
  for (int n = 0; n < std::max(1, call.days); ++n)
    days.push_back({{"date", rules::ToText(*day + std::chrono::days{n})}});
  return days;
}

}  // namespace

void PrintRound(const Config& config, const RoundCall& call) {
  if (!call.ics.empty()) return PrintCalendar(config, call);
  const std::vector<Query> days = DaysOf(config, call);
  boost::json::array rounds;
  for (const Query& day : days) {
    if (call.as_json) {
      rounds.push_back(AskDaemon(config, "/api/round", day));
      continue;
    }
    if (&day != &days.front()) fmt::print("\n{}\n\n", std::string(morning::kWidth, '-'));
    fmt::print("{}", AskDaemonText(config, "/api/round/text", day));
  }
  if (!call.as_json) return;
  // One day is its answer, several are a list of them.
  fmt::print("{}\n", boost::json::serialize(call.days > 1 ? boost::json::value(rounds) : rounds.front()));
}

}  // namespace rindwatch
