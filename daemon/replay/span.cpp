#include "daemon/replay/span.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "daemon/book/fields.hpp"

namespace rindwatch {

using rules::Instant;

namespace {

Instant DayBegins(const std::string& text, const char* option, const rules::DayTurn& home) {
  const auto day = DayFrom(text);
  if (!day) throw std::runtime_error(fmt::format("{}: \"{}\" is no date; write one such as 2026-08-25.", option, text));
  return home.StartOf(*day);
}

void CheckOrder(const AskedSpan& asked, const ReplaySpan& span) {
  if (asked.from.empty() || asked.to.empty() || span.from < span.to) return;
  if (span.from == span.to)
    throw std::runtime_error(
        fmt::format("The span is empty: --to is the day after the last, and --from and --to both say {}.", asked.from));
  throw std::runtime_error(fmt::format("The span is upside down: --from {} lies after --to {}.", asked.from, asked.to));
}

}  // namespace

ReplaySpan SpanOfDays(const AskedSpan& asked, Instant first, Instant last, const rules::DayTurn& home) {
  const Instant end = last + rules::Millis{1};
  ReplaySpan span;
  span.to = asked.to.empty() ? end : DayBegins(asked.to, "--to", home);
  // What lies ahead was not kept: so many days back are counted from where it ends.
  span.from = asked.from.empty() ? std::min(span.to, end) - std::chrono::days{asked.days}
                                 : DayBegins(asked.from, "--from", home);
  CheckOrder(asked, span);
  if (span.from >= end)
    throw std::runtime_error(
        fmt::format("Nothing of the span was kept: --from {} lies after the newest reading, of {}.", asked.from,
                    MinuteText(last, home)));
  if (span.to <= first)
    throw std::runtime_error(fmt::format("Nothing of the span was kept: --to {} lies before the first reading, of {}.",
                                         asked.to, MinuteText(first, home)));
  return span;
}

std::string MinuteText(Instant at, const rules::DayTurn& home) {
  const auto text = rules::ToText(Instant{home.zone.ToLocal(at).time_since_epoch()});
  return text.substr(0, 10) + " " + text.substr(11, 5);
}

}  // namespace rindwatch
