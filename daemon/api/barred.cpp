#include "daemon/api/barred.hpp"

#include <algorithm>

#include "daemon/api/gas.hpp"
#include "daemon/api/within.hpp"

namespace rindwatch {

namespace {

bool IsCalledOtherwise(const Book& book, const rules::Alarm& alarm) {
  const std::string* called = book.CalledAs(alarm.id);
  return called != nullptr && *called != "power";
}

// Which are perhaps without power.
std::vector<rules::CaveId> DarkCaves(const ApiContext& context) {
  std::vector<rules::CaveId> caves;
  if (context.broker && context.broker->WhyAway()) return caves;
  const std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  for (const rules::Alarm& alarm : alarms) {
    const bool stands = alarm.kind == rules::AlarmKind::kPowerGone && !alarm.over;
    if (stands && !IsCalledOtherwise(context.book(), alarm)) caves.push_back(alarm.cave);
  }
  return caves;
}

bool IsInAny(const Book& book, rules::CaveId cave, const std::vector<rules::CaveId>& outer) {
  return std::ranges::any_of(outer, [&](rules::CaveId one) { return IsWithin(book, cave, one); });
}

}  // namespace

Bars::Bars(const ApiContext& context)
    : book_(context.book()), gas_(BarredByGas(context.watch)), dark_(DarkCaves(context)) {}

bool Bars::IsKeptShut(rules::CaveId id) const {
  const CaveRow* cave = book_.Cave(id);
  return cave != nullptr && cave->kind != CaveKind::kCounter && IsInAny(book_, id, dark_);
}

std::optional<Bar> Bars::Of(rules::CaveId cave) const {
  if (IsInAny(book_, cave, gas_)) return Bar::kGas;
  return IsKeptShut(cave) ? std::optional(Bar::kPower) : std::nullopt;
}

std::optional<Bar> Bars::Of(const rules::Round::Line& line) const {
  return line.line->care->OnRound() ? Of(line.line->place.cave) : std::nullopt;
}

bool IsKeptShut(const ApiContext& context, rules::CaveId cave) { return Bars(context).Of(cave) == Bar::kPower; }

rules::Round WithoutBarred(const ApiContext& context, rules::Round round) {
  const Bars bars(context);
  std::erase_if(round.lines, [&](const rules::Round::Line& line) { return bars.Of(line).has_value(); });
  for (std::size_t i = 0; i < round.sections.size(); ++i) {
    round.sections[i].left = std::ranges::any_of(
        round.lines, [i](const rules::Round::Line& line) { return line.section == i && line.line->care->OnRound(); });
  }
  return round;
}

BarredLines BarredOf(const ApiContext& context, const rules::Round& round) {
  const Bars bars(context);
  BarredLines barred;
  for (const rules::Round::Line& line : round.lines) {
    if (const auto bar = bars.Of(line)) ++(*bar == Bar::kGas ? barred.gas : barred.power);
  }
  return barred;
}

std::size_t OpenAgain(const ApiContext& context, const rules::Alarm& alarm) {
  const Book& book = context.book();
  if (alarm.kind != rules::AlarmKind::kPowerGone || !alarm.over || IsCalledOtherwise(book, alarm)) return 0;
  const Bars bars(context);
  const rules::Round& round = context.watch.TodaysRound().work;
  return static_cast<std::size_t>(std::ranges::count_if(round.lines, [&](const rules::Round::Line& line) {
    const CaveRow* cave = book.Cave(line.line->place.cave);
    return line.line->care->OnRound() && cave && cave->kind != CaveKind::kCounter &&
           IsWithin(book, cave->id, alarm.cave) && !bars.Of(line);
  }));
}

}  // namespace rindwatch
