#include "daemon/api/air_days.hpp"

#include <algorithm>
#include <memory>
#include <set>
#include <tuple>

#include "daemon/book/newest.hpp"

namespace rindwatch {

using rules::Date;
using rules::Instant;
using rules::Millis;
using std::chrono::days;

namespace {

struct SpanOrder {
  bool operator()(const HungSpan& a, const HungSpan& b) const {
    return std::tie(a.channel, a.from, a.to) < std::tie(b.channel, b.from, b.to);
  }
};

struct Gathering {
  std::map<HungSpan, std::vector<Bucket>, SpanOrder> quarters;
  std::size_t waiting = 0;
};

Instant WholeQuarter(Instant at) { return Instant{at.time_since_epoch() / kQuarterHour * kQuarterHour}; }

}  // namespace

std::vector<HungSpan> AirWhereItLay(const Book& book, const WheelRow& wheel, Instant to) {
  std::vector<HungSpan> spans;
  const auto places = NotUndone(book, wheel.places, wheel.id);
  for (std::size_t n = 0; n < places.size(); ++n) {
    const auto& place = *places[n];
    const CaveRow* cave = place.value.cave ? book.Cave(*place.value.cave) : nullptr;
    const Instant until = n + 1 < places.size() ? places[n + 1]->from : to;
    if (!cave || place.from >= until) continue;
    const auto air = AirOf(book, *cave, place.from, until);
    spans.insert(spans.end(), air.begin(), air.end());
  }
  return spans;
}

std::vector<rules::DayOfAir> DaysOfAir(const std::vector<Bucket>& quarters, const rules::DayTurn& turn, Date first,
                                       Date last, Instant now) {
  std::vector<Bucket> told = quarters;
  std::ranges::sort(told, {}, &Bucket::from);
  std::vector<rules::DayOfAir> air;
  auto next = told.begin();
  for (Date day = first; day <= last; day += days{1}) {
    const Instant start = turn.StartOf(day), end = std::min(turn.EndOf(day), now);
    while (next != told.end() && next->from < start) ++next;
    rules::DayOfAir today{day, {}, {}};
    Instant spoke = start;
    for (; next != told.end() && next->from < end; ++next) {
      const rules::Celsius mean{next->mean};
      if (!today.low || mean < *today.low) today.low = mean;
      today.longest_silence = std::max(today.longest_silence, std::max(next->from - spoke, Millis{0}));
      spoke = std::max(spoke, next->from + kQuarterHour);
    }
    today.longest_silence = std::max(today.longest_silence, std::max(end - spoke, Millis{0}));
    if (today.low) air.push_back(today);
  }
  return air;
}

void AirDaysOf(const ApiContext& context, const std::vector<rules::WheelId>& wheels,
               std::function<void(AirDays)> done) {
  const Book& book = context.book();
  const Instant now = context.now();
  auto all = std::make_shared<Gathering>();
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = book.Wheel(id);
    if (!wheel) continue;
    for (const HungSpan& span : AirWhereItLay(book, *wheel, now)) all->quarters[span];
  }
  all->waiting = all->quarters.size() + 1;
  const auto arrived = [context, all, wheels, now, done = std::move(done)] {
    if (--all->waiting != 0) return;
    const Book& open = context.book();
    AirDays air;
    for (const rules::WheelId id : wheels) {
      const WheelRow* wheel = open.Wheel(id);
      if (!wheel) continue;
      std::vector<Bucket> quarters;
      for (const HungSpan& span : AirWhereItLay(open, *wheel, now)) {
        const auto& told = all->quarters[span];
        quarters.insert(quarters.end(), told.begin(), told.end());
      }
      const auto& turn = open.Home();
      air[id] = DaysOfAir(quarters, turn, turn.DayOf(wheel->history.entered), turn.DayOf(now), now);
    }
    done(std::move(air));
  };
  std::vector<HungSpan> spans;
  for (const auto& [span, quarters] : all->quarters) spans.push_back(span);
  for (const HungSpan& span : spans) {
    // Columns on the quarter hours of the clock, which every day's start is on.
    context.store.History(span.channel, WholeQuarter(span.from), span.to, kQuarterHour,
                          [all, arrived, span](const std::vector<Bucket>& buckets) {
                            auto& told = all->quarters[span];
                            std::ranges::copy_if(buckets, std::back_inserter(told),
                                                 [&](const Bucket& bucket) { return bucket.from >= span.from; });
                            arrived();
                          });
  }
  arrived();
}

}  // namespace rindwatch
