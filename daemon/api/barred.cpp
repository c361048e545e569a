#include "daemon/api/barred.hpp"

#include <algorithm>

#include "daemon/api/gas.hpp"
#include "daemon/api/within.hpp"

namespace rindwatch {

namespace {

// What is settled stays as it is.
std::optional<Bar> BarOf(const ApiContext& context, const rules::Round::Line& line) {
  return line.line->care->OnRound() ? BarOf(context, line.line->place.cave) : std::nullopt;
}

bool IsCalledOtherwise(const Book& book, const rules::Alarm& alarm) {
  const std::string* called = book.CalledAs(alarm.id);
  return called && *called != "power";
}

bool IsKeptShut(const ApiContext& context, rules::CaveId id) {
  const CaveRow* cave = context.book().Cave(id);
  const bool unheard = context.broker && context.broker->WhyAway();
  if (!cave || cave->kind == CaveKind::kCounter || unheard) return false;
  const std::vector<rules::Alarm> alarms = context.watch.Engine().Alarms();
  return std::ranges::any_of(alarms, [&](const rules::Alarm& alarm) {
    return alarm.kind == rules::AlarmKind::kPowerGone && !alarm.over && IsWithin(context.book(), id, alarm.cave) &&
           !IsCalledOtherwise(context.book(), alarm);
  });
}

}  // namespace

std::optional<Bar> BarOf(const ApiContext& context, rules::CaveId cave) {
  if (IsBarredByGas(context, cave)) return Bar::kGas;
  return IsKeptShut(context, cave) ? std::optional(Bar::kPower) : std::nullopt;
}

rules::Round WithoutBarred(const ApiContext& context, rules::Round round) {
  std::erase_if(round.lines, [&](const rules::Round::Line& line) { return BarOf(context, line).has_value(); });
  for (std::size_t i = 0; i < round.sections.size(); ++i) {
    round.sections[i].left = std::ranges::any_of(
        round.lines, [i](const rules::Round::Line& line) { return line.section == i && line.line->care->OnRound(); });
  }
  return round;
}

BarredLines BarredOf(const ApiContext& context, const rules::Round& round) {
  BarredLines barred;
  for (const rules::Round::Line& line : round.lines) {
    if (const auto bar = BarOf(context, line)) ++(*bar == Bar::kGas ? barred.gas : barred.power);
  }
  return barred;
}

}  // namespace rindwatch
