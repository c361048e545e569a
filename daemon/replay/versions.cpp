#include "daemon/replay/versions.hpp"

#include <algorithm>
#include <boost/json.hpp>

#include "daemon/book/fields.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch {

using rules::Instant;

void RulesTold::Take(const JournalLine& line) {
  const boost::json::value body = boost::json::parse(line.body);
  const auto version = fields::MaybeWhole(body.as_object(), "rules");
  const Instant from = spans_.empty() ? Instant::min() : line.at;
  // A clock that was set back: what was decided since is newer than what its instants say.
  while (spans_.size() > 1 && spans_.back().from >= from) spans_.pop_back();
  if (!spans_.empty()) spans_.back().until = from;
  spans_.push_back({version ? std::optional{static_cast<int>(*version)} : std::nullopt, from, Instant::max()});
}

std::vector<RulesSpan> RulesTold::Others(Instant from, Instant to) const {
  std::vector<RulesSpan> others;
  for (RulesSpan span : spans_) {
    span.from = std::max(span.from, from);
    span.until = std::min(span.until, to);
    if (span.version == rules::kRulesVersion || span.from >= span.until) continue;
    if (!others.empty() && others.back().until == span.from && others.back().version == span.version)
      others.back().until = span.until;
    else
      others.push_back(span);
  }
  return others;
}

bool Holds(const std::vector<RulesSpan>& spans, Instant at) {
  return std::ranges::any_of(spans, [at](const RulesSpan& span) { return at >= span.from && at < span.until; });
}

}  // namespace rindwatch
