// What a probe said while it was stuck or wet: kept, and believed by nobody. The loop's thread.
#pragma once

#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "daemon/store/store.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// As the alarm of the probe tells it; one that lasts ends with the span asked for.
struct Doubt {
  rules::AlarmKind kind = rules::AlarmKind::kProbeStuck;
  rules::ProbeId probe = 0;
  rules::Instant from, to;
};

// Of every probe, as far as they reach into the span.
std::vector<Doubt> DoubtsIn(const Book& book, rules::Instant from, rules::Instant to);
// Those that may be about a channel: a wet probe is so for its humidity alone.
std::vector<Doubt> DoubtsOf(const Book& book, const std::vector<Doubt>& doubts, rules::ChannelId channel);

// ---- pure, for the tests ----

// What was taken of one doubt, as long as it lasts without a pause.
struct DoubtedSpan {
  rules::AlarmKind kind = rules::AlarmKind::kProbeStuck;
  rules::ProbeId probe = 0;
  rules::Instant from, to;
};
// Of one channel, by time: takes out the buckets that a doubt covers, and says which spans they were. A probe that is
// stuck may be so by one of its channels alone: of each only what stands still for half an hour is taken. `width`: of a
// bucket.
std::vector<DoubtedSpan> TakeDoubted(std::vector<Bucket>& buckets, const std::vector<Doubt>& doubts,
                                     rules::Millis width);
// What of the spans is unknown: where nothing believed was said for longer than `longest`.
std::vector<DoubtedSpan> LeftUnknown(const std::vector<DoubtedSpan>& doubted, const std::vector<Bucket>& believed,
                                     rules::Millis width, rules::Millis longest);

}  // namespace rindwatch
