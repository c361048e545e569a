// When a place was not heard: one instant for state, ribbon, journal and letter, that of the alarm which tells of it.
// The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/ribbon.hpp"

namespace rindwatch {

// From when a silence is told, over as many times that nobody watched as there were.
struct DatedSilence {
  rules::Instant last_word;
  // Nobody watched when its next word was due by its usual gap: that it is silent somebody saw only from the end on. Of
  // several, close upon each other, the last.
  std::optional<Gap> begun;
  // The last other time that nobody watched while it lasted; it had been seen to be silent before.
  std::optional<Gap> within;

  rules::Instant Since() const { return begun ? begun->to : last_word; }
};
// Of an alarm that is of no silence, of a probe or of a whole place: since it began.
DatedSilence DatedOf(const Watch& watch, const rules::Alarm& alarm);
// Of a channel of which nothing is heard in the cave, as the alarm of its probe says it; before there is one, by its
// last reading. None: it speaks, or never did.
std::optional<DatedSilence> DatedOf(const Watch& watch, const CaveRow& cave, const rules::ChannelView& channel);
// Since when an alarm is told to last: of a silence since somebody watched.
rules::Instant ToldSince(const Watch& watch, const rules::Alarm& alarm);

// The same gaps, each end as the alarm tells it that knows of it: a ribbon knows its ends by five minutes alone.
// `view`: as the cave stands at `to`.
std::vector<Gap> AsTold(const Book& book, const CaveRow& cave, const rules::CaveView& view, std::vector<Gap> gaps,
                        rules::Instant to);

}  // namespace rindwatch
