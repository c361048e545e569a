// Which version of the rules decided what a journal holds: each start of the watch says its own.
#pragma once

#include <optional>
#include <vector>

#include "daemon/book/line.hpp"

namespace rindwatch {

struct RulesSpan {
  std::optional<int> version;  // none: a watch of before the journal said it
  rules::Instant from, until;  // [from, until)
  bool operator==(const RulesSpan&) const = default;
};

class RulesTold {
 public:
  // A line of the kind "started", in the order of the journal.
  void Take(const JournalLine& line);
  // The spans of [from, to) that other rules than those of now decided, ascending. What was before the first start was
  // as that.
  std::vector<RulesSpan> Others(rules::Instant from, rules::Instant to) const;

 private:
  std::vector<RulesSpan> spans_;
};

// Whether one of the spans holds the instant.
bool Holds(const std::vector<RulesSpan>& spans, rules::Instant at);

}  // namespace rindwatch
