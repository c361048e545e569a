#include "daemon/api/doubted.hpp"

#include <algorithm>

#include "daemon/book/fields.hpp"

namespace rindwatch {

using rules::AlarmKind;
using rules::Instant;
using rules::Millis;

namespace {

// So long equal values are no chance: nothing is called stuck sooner.
constexpr Millis kStandsStill = std::chrono::minutes{30};

std::optional<Doubt> DoubtFrom(const boost::json::object& record, Instant until) {
  const auto kind = rules::AlarmKindFrom(fields::TextOr(record, "kind", ""));
  if (kind != AlarmKind::kProbeStuck && kind != AlarmKind::kProbeWet) return std::nullopt;
  const auto probe = fields::MaybeWhole(record, "probe");
  const auto since = fields::MaybeAt(record, "since");
  if (!probe || !since) return std::nullopt;
  return Doubt{*kind, *probe, *since, fields::MaybeAt(record, "over").value_or(until)};
}

bool Covers(const Doubt& doubt, const Bucket& bucket, Millis width) {
  return bucket.from + width > doubt.from && bucket.from < doubt.to;
}

bool SaysTheSame(const Bucket& a, const Bucket& b) { return a.min == a.max && b.min == b.max && a.min == b.min; }

// Of each bucket, whether it is part of what stands still.
std::vector<bool> Still(const std::vector<Bucket>& buckets, Millis width) {
  std::vector<bool> still(buckets.size(), false);
  for (std::size_t first = 0; first < buckets.size();) {
    std::size_t end = first + 1;
    while (end < buckets.size() && SaysTheSame(buckets[first], buckets[end])) ++end;
    const bool one = buckets[first].min == buckets[first].max;
    const bool taken = one && buckets[end - 1].from + width - buckets[first].from >= kStandsStill;
    std::fill(still.begin() + static_cast<std::ptrdiff_t>(first), still.begin() + static_cast<std::ptrdiff_t>(end),
              taken);
    first = end;
  }
  return still;
}

}  // namespace

std::vector<Doubt> DoubtsIn(const Book& book, Instant from, Instant to) {
  std::vector<Doubt> doubts;
  for (const auto& [id, record] : book.AlarmRecords()) {
    const auto doubt = DoubtFrom(record, to);
    if (doubt && doubt->from < to && doubt->to > from) doubts.push_back(*doubt);
  }
  std::ranges::sort(doubts, {}, &Doubt::from);
  return doubts;
}

std::vector<Doubt> DoubtsOf(const Book& book, const std::vector<Doubt>& doubts, rules::ChannelId channel) {
  std::vector<Doubt> of_it;
  std::ranges::copy_if(doubts, std::back_inserter(of_it), [&](const Doubt& doubt) {
    const ProbeRow* probe = book.Probe(doubt.probe);
    return probe != nullptr && std::ranges::any_of(probe->known_channels, [&](const ProbeChannel& one) {
             const bool judged = doubt.kind != AlarmKind::kProbeWet || one.kind == rules::ChannelKind::kHumidity;
             return one.id == channel && judged;
           });
  });
  return of_it;
}

std::vector<DoubtedSpan> TakeDoubted(std::vector<Bucket>& buckets, const std::vector<Doubt>& doubts, Millis width) {
  if (doubts.empty()) return {};
  std::vector<DoubtedSpan> spans;
  std::vector<Bucket> believed;
  const std::vector<bool> still = Still(buckets, width);
  const Doubt* before = nullptr;  // that covers the bucket before this one
  for (std::size_t n = 0; n < buckets.size(); ++n) {
    const Bucket& bucket = buckets[n];
    const auto doubt = std::ranges::find_if(doubts, [&](const Doubt& one) {
      return Covers(one, bucket, width) && (one.kind == AlarmKind::kProbeWet || still[n]);
    });
    if (doubt == doubts.end()) {
      believed.push_back(bucket);
      before = nullptr;
      continue;
    }
    const Instant from = std::max(bucket.from, doubt->from), to = std::min(bucket.from + width, doubt->to);
    if (before == &*doubt)
      spans.back().to = to;
    else
      spans.push_back({doubt->kind, doubt->probe, from, to});
    before = &*doubt;
  }
  buckets = std::move(believed);
  return spans;
}

std::vector<DoubtedSpan> LeftUnknown(const std::vector<DoubtedSpan>& doubted, const std::vector<Bucket>& believed,
                                     Millis width, Millis longest) {
  std::vector<DoubtedSpan> left;
  for (const DoubtedSpan& span : doubted) {
    Instant spoke = span.from;
    const auto add = [&](Instant to) {
      if (to - spoke > longest) left.push_back({span.kind, span.probe, spoke, to});
    };
    for (const Bucket& bucket : believed) {
      if (bucket.from + width <= span.from || bucket.from >= span.to) continue;
      add(bucket.from);
      spoke = std::max(spoke, bucket.from + width);
    }
    add(span.to);
  }
  return left;
}

}  // namespace rindwatch
