// Why nothing is known of a place, and since when. The loop's thread.
#pragma once

#include <optional>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/api/ribbon.hpp"
#include "daemon/book/book.hpp"

namespace rindwatch {

struct Unknown {
  std::string since;  // "01:40"; empty: not known, or it never spoke
  std::string why;    // "probe Cellar air silent"; empty: nothing of the place's own says why
  std::string odds;   // "12.0 to 15.0 °C", "71 to 90 %": between what its probes say that contradict each other
};

// A watch that has just begun: its probes have had no time to speak yet, and of none is known that it is silent. None:
// somebody has watched for long enough, or the channel speaks.
std::optional<Gap> JustUnwatched(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel);

// Of a channel whose state is unknown.
Unknown WhyUnknown(const ApiContext& context, const CaveRow& cave, const rules::ChannelView& channel);
// "12.0 to 15.0 °C", "71 to 90 %"
std::string OddsWords(double low, double high, bool humid);
// "since 01:40: probe Cellar air silent", or as much of it as there is.
std::string UnknownWords(const Words& words, const Unknown& unknown);

}  // namespace rindwatch
