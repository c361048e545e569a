// When a place was not heard: one instant for state, ribbon, journal and letter, that of the alarm which tells of it.
// The loop's thread.
#pragma once

#include <optional>
#include <vector>

#include "daemon/api/ribbon.hpp"

namespace rindwatch {

// Since when nothing of this channel is heard in the cave, as the alarm of its probe says it; before there is one,
// since its last reading: also where nobody watched for a part of it. None: it speaks, or never did.
std::optional<rules::Instant> SilentSince(const Book& book, const CaveRow& cave, const rules::ChannelView& channel);

// The last time that nobody watched while this probe was silent. None: somebody always did, or it is no silent probe.
std::optional<Gap> UnwatchedWithin(const Book& book, const rules::Alarm& silence);

// The time that nobody watched at whose beginning this probe spoke last: since when it is silent somebody saw only from
// the end of it on. None: it was seen to fall silent, or it is no silent probe.
std::optional<Gap> BegunUnwatched(const Book& book, const rules::Alarm& silence);
// Since when an alarm is told to last: of a silence since somebody watched.
rules::Instant ToldSince(const Book& book, const rules::Alarm& alarm);
// The time that nobody watched in a cave, if it began when what is silent there spoke last, at `last`.
std::optional<Gap> UnwatchedSince(const Book& book, const CaveRow& cave, rules::Instant last);

// The same gaps, each end as the alarm tells it that knows of it: a ribbon knows its ends by five minutes alone.
// `view`: as the cave stands at `to`.
std::vector<Gap> AsTold(const Book& book, const CaveRow& cave, const rules::CaveView& view, std::vector<Gap> gaps,
                        rules::Instant to);

}  // namespace rindwatch
