// What bars the lines of a place: gas, or a power cut in which it is kept shut. They stay due, and are in no sum. Who
// does one all the same is taken at his word. The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/words/bar.hpp"
#include "rules/round/round.hpp"

namespace rindwatch {

// What bars each place at the instant at which it was made: the watch is asked once for a whole round, however many
// lines that has. Does not outlive the turn of the loop. A place that perhaps has no power is kept shut as long as the
// alarm of that stands, but for a counter, which has no door, and unless it is the broker that does not answer, or a
// keeper has called it something else.
class Bars {
 public:
  explicit Bars(const ApiContext& context);
  // None: nothing.
  std::optional<Bar> Of(rules::CaveId cave) const;
  // What is settled stays as it is.
  std::optional<Bar> Of(const rules::Round::Line& line) const;

 private:
  bool IsKeptShut(rules::CaveId cave) const;

  const Book& book_;
  std::vector<rules::CaveId> gas_, dark_;  // with all that stands in them
};

// Whether it is perhaps without power and kept shut.
bool IsKeptShut(const ApiContext& context, rules::CaveId cave);

// A round without its lines that are barred: what is left of it, and how long that takes. Of a round of now.
rules::Round WithoutBarred(const ApiContext& context, rules::Round round);

BarredLines BarredOf(const ApiContext& context, const rules::Round& round);

// Of a power cut that is over: how many lines of today it held back that are open again.
std::size_t OpenAgain(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
