// The trace of a cave: means of the same width that the watch judges by, over a span, with the gaps in it.
#pragma once

#include <functional>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/api/doubted.hpp"

namespace rindwatch {

struct TracePoint {
  rules::Instant at;
  double mean = 0;
};
struct Gap {
  rules::Instant from, to;
};
struct Trace {
  std::vector<TracePoint> temperature, humidity;
  std::vector<Gap> gaps;  // nothing was recorded; empty where no probe hangs
  // Recorded by a probe that was stuck or wet, while no other one spoke: the means hold nothing of it.
  std::vector<DoubtedSpan> temperature_doubted, humidity_doubted;
};

// Asks the store for the readings of every channel that hung in the cave and calls `done` with the whole.
void TraceOf(const ApiContext& context, const CaveRow& cave, rules::Instant from, rules::Instant to,
             std::function<void(Trace)> done);

// The channels of a kind that hang in the cave now or hung there in the span, and from when to when.
struct HungSpan {
  rules::ChannelId channel;
  rules::Instant from, to;
};
std::vector<HungSpan> ChannelsOf(const Book& book, rules::CaveId cave, rules::ChannelKind kind, rules::Instant from,
                                 rules::Instant to);
// Those that tell the temperature of the air in a cave: its own, else those of the nearest cave around it.
std::vector<HungSpan> AirOf(const Book& book, const CaveRow& cave, rules::Instant from, rules::Instant to);

// ---- pure, for the tests ----
// Means over the `window` before each step, from buckets of whatever width; a step without readings has no point.
std::vector<TracePoint> Means(const std::vector<Bucket>& buckets, rules::Instant from, rules::Instant to,
                              rules::Millis step, rules::Millis window);
// From when to when a channel that hung from `from` to `to` spoke, with buckets of that width: its pauses of up to
// `longest` are its pace, and part of it.
std::vector<HungSpan> SpokenIn(const std::vector<Bucket>& buckets, const HungSpan& hung, rules::Millis width,
                               rules::Millis longest);
// Spans of more than `longest` in which none of the channels spoke.
std::vector<Gap> GapsIn(std::vector<HungSpan> spoken, rules::Instant from, rules::Instant to, rules::Millis longest);

}  // namespace rindwatch
