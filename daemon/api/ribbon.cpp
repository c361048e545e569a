#include "daemon/api/ribbon.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "daemon/book/newest.hpp"

#include "rules/alarms/channels.hpp"
#include "rules/alarms/thresholds.hpp"

namespace rindwatch {

using rules::ChannelKind;
using rules::Instant;
using rules::Millis;

namespace {

constexpr Millis kBucket = std::chrono::minutes{5};
constexpr Millis kStep = std::chrono::minutes{10};
constexpr Millis kLongestPause = std::chrono::minutes{20};
// The windows over which the air is judged.
constexpr Millis kTemperatureWindow = std::chrono::minutes{rules::watch::kTemperatureWindowMinutes};
constexpr Millis kHumidityWindow = std::chrono::minutes{rules::watch::kHumidityWindowMinutes};

// Collects the answers of several questions to the store and goes on when the last is there.
struct Gathering {
  struct OfKind {
    std::vector<Bucket> believed;
    std::vector<HungSpan> spoken;  // what was doubted too
    std::vector<DoubtedSpan> doubted;
  };
  OfKind temperature, humidity;
  std::size_t waiting = 0;
  std::function<void(const Gathering&)> done;

  void Arrived() {
    if (--waiting == 0) done(*this);
  }
};

// Of a probe that speaks each 40 minutes nothing is missing between two of its words.
Millis LongestPauseOf(const ApiContext& context, rules::ChannelId channel) {
  return std::max(kLongestPause, rules::ChannelAwaitedFor(context.watch.Engine(), channel).value_or(kLongestPause));
}

// Two probes that are doubted at a time are told by the first: one span is unknown once.
std::vector<DoubtedSpan> Unknown(const Gathering::OfKind& all, Instant from) {
  auto left = LeftUnknown(all.doubted, all.believed, kBucket, kLongestPause);
  std::ranges::sort(left, {}, &DoubtedSpan::from);
  std::vector<DoubtedSpan> once;
  for (DoubtedSpan span : left) {
    span.from = std::max(span.from, once.empty() ? from : once.back().to);
    if (span.from < span.to) once.push_back(span);
  }
  return once;
}

void Merge(std::vector<Bucket>& into, const std::vector<Bucket>& more) {
  into.insert(into.end(), more.begin(), more.end());
  std::ranges::stable_sort(into, {}, &Bucket::from);
}

}  // namespace

std::vector<HungSpan> ChannelsOf(const Book& book, rules::CaveId cave, ChannelKind kind, Instant from, Instant to) {
  std::vector<HungSpan> spans;
  for (const ProbeRow* probe : book.Probes()) {
    const auto hangs = NotUndone(book, probe->hangs, std::nullopt);
    for (std::size_t n = 0; n < hangs.size(); ++n) {
      const auto& hang = *hangs[n];
      if (hang.value != cave) continue;
      const Instant until = n + 1 < hangs.size() ? hangs[n + 1]->from : to;
      const Instant begin = std::max(from, hang.from), end = std::min(to, until);
      if (begin >= end) continue;
      for (const ProbeChannel& channel : probe->known_channels) {
        if (channel.kind == kind) spans.push_back({channel.id, begin, end});
      }
    }
  }
  return spans;
}

std::vector<HungSpan> AirOf(const Book& book, const CaveRow& cave, Instant from, Instant to) {
  // A cave is inside one that came before it, so this ends.
  for (const CaveRow* around = &cave; around; around = around->inside ? book.Cave(*around->inside) : nullptr) {
    auto spans = ChannelsOf(book, around->id, ChannelKind::kTemperature, from, to);
    if (!spans.empty()) return spans;
  }
  return {};
}

std::vector<TracePoint> Means(const std::vector<Bucket>& buckets, Instant from, Instant to, Millis step,
                              Millis window) {
  std::vector<TracePoint> points;
  auto oldest = buckets.begin();
  auto next = buckets.begin();
  double sum = 0;
  std::int64_t count = 0;
  for (Instant at = from; at <= to; at += step) {
    for (; next != buckets.end() && next->from < at; ++next) {
      sum += next->mean * static_cast<double>(next->count);
      count += next->count;
    }
    for (; oldest != next && oldest->from < at - window; ++oldest) {
      sum -= oldest->mean * static_cast<double>(oldest->count);
      count -= oldest->count;
    }
    // A point stands only where something was said lately: a gap is never bridged by an old mean.
    const bool spoke = next != buckets.begin() && std::prev(next)->from > at - kLongestPause;
    if (count > 0 && spoke) points.push_back({at, sum / static_cast<double>(count)});
  }
  return points;
}

std::vector<HungSpan> SpokenIn(const std::vector<Bucket>& buckets, const HungSpan& hung, Millis width, Millis longest) {
  std::vector<HungSpan> spans;
  for (const Bucket& bucket : buckets) {
    const Instant until = bucket.from + width;
    if (bucket.from - (spans.empty() ? hung.from : spans.back().to) > longest)
      spans.push_back({hung.channel, bucket.from, until});
    else if (spans.empty())
      spans.push_back({hung.channel, hung.from, until});
    else
      spans.back().to = until;
  }
  if (!spans.empty() && hung.to - spans.back().to <= longest) spans.back().to = hung.to;
  return spans;
}

std::vector<Gap> GapsIn(std::vector<HungSpan> spoken, Instant from, Instant to, Millis longest) {
  std::ranges::sort(spoken, {}, &HungSpan::from);
  std::vector<Gap> gaps;
  Instant spoke = from;
  for (const HungSpan& span : spoken) {
    if (span.from - spoke > longest) gaps.push_back({spoke, span.from});
    spoke = std::max(spoke, span.to);
  }
  if (to - spoke > longest) gaps.push_back({spoke, to});
  return gaps;
}

void TraceOf(const ApiContext& context, const CaveRow& cave, Instant from, Instant to,
             std::function<void(Trace)> done) {
  const Book& book = context.book();
  const auto temperature = AirOf(book, cave, from - kTemperatureWindow, to);
  const auto humidity = ChannelsOf(book, cave.id, ChannelKind::kHumidity, from - kHumidityWindow, to);

  auto gathering = std::make_shared<Gathering>();
  gathering->waiting = temperature.size() + humidity.size() + 1;
  // Before the first probe was hung nothing could speak: that is no gap.
  Instant watched_from = to;
  for (const auto* spans : {&temperature, &humidity}) {
    for (const HungSpan& span : *spans) watched_from = std::min(watched_from, std::max(span.from, from));
  }
  gathering->done = [from, to, watched_from, done = std::move(done)](const Gathering& all) {
    Trace trace;
    trace.temperature = Means(all.temperature.believed, from, to, kStep, kTemperatureWindow);
    trace.humidity = Means(all.humidity.believed, from, to, kStep, kHumidityWindow);
    const auto& told = all.temperature.spoken.empty() ? all.humidity.spoken : all.temperature.spoken;
    if (watched_from < to) trace.gaps = GapsIn(told, watched_from, to, kLongestPause);
    trace.temperature_doubted = Unknown(all.temperature, from);
    trace.humidity_doubted = Unknown(all.humidity, from);
    done(std::move(trace));
  };
  const std::vector<Doubt> doubts = DoubtsIn(book, from - kHumidityWindow, to);
  const auto ask = [&](const std::vector<HungSpan>& spans, Gathering::OfKind Gathering::*into) {
    for (const HungSpan& span : spans) {
      const Millis pause = LongestPauseOf(context, span.channel);
      context.store.History(
          span.channel, span.from, span.to, kBucket,
          [gathering, into, span, pause, of_it = DoubtsOf(book, doubts, span.channel)](std::vector<Bucket> buckets) {
            Gathering::OfKind& of_kind = (*gathering).*into;
            const auto spoken = SpokenIn(buckets, span, kBucket, pause);
            of_kind.spoken.insert(of_kind.spoken.end(), spoken.begin(), spoken.end());
            const auto doubted = TakeDoubted(buckets, of_it, kBucket);
            of_kind.doubted.insert(of_kind.doubted.end(), doubted.begin(), doubted.end());
            Merge(of_kind.believed, buckets);
            gathering->Arrived();
          });
    }
  };
  ask(temperature, &Gathering::temperature);
  ask(humidity, &Gathering::humidity);
  gathering->Arrived();
}

}  // namespace rindwatch
