#include "daemon/api/air_days.hpp"

#include <algorithm>
#include <iterator>
#include <memory>
#include <tuple>
#include <utility>

#include "daemon/api/doubted.hpp"
#include "daemon/book/newest.hpp"
#include "rules/wheels/lags.hpp"

namespace rindwatch {

using rules::Date;
using rules::Instant;
using rules::Millis;
using std::chrono::days;

namespace {

// What is known of a channel, asked for once from its first to its last need.
struct Told {
  Instant from, to;
  std::vector<Bucket> quarters;
};

struct Gathering {
  std::map<rules::ChannelId, Told> channels;
  std::size_t waiting = 0;
};

Instant WholeQuarter(Instant at) { return Instant{at.time_since_epoch() / kQuarterHour * kQuarterHour}; }

std::vector<rules::DayOfAir> AirOfWheel(const Book& book, const WheelRow& wheel, const Gathering& all, Instant now) {
  std::vector<Bucket> quarters;
  for (const HungSpan& span : AirWhereItLay(book, wheel, now)) {
    const auto told = all.channels.find(span.channel);
    // A probe that was hung while the store was asked.
    if (told == all.channels.end()) continue;
    std::ranges::copy_if(told->second.quarters, std::back_inserter(quarters),
                         [&](const Bucket& bucket) { return bucket.from >= span.from && bucket.from < span.to; });
  }
  const auto& turn = book.Home();
  return DaysOfAir(FeltBy(book.WeightOf(wheel), quarters), turn, turn.DayOf(wheel.History().entered), turn.DayOf(now),
                   now);
}

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

std::vector<Bucket> FeltBy(rules::Grams weight, std::vector<Bucket> quarters) {
  constexpr rules::Grams kUnknown{250};
  std::ranges::sort(
      quarters, [](const Bucket& a, const Bucket& b) { return std::tie(a.from, a.mean) < std::tie(b.from, b.mean); });
  quarters.erase(std::ranges::unique(quarters, {}, &Bucket::from).begin(), quarters.end());
  const rules::WheelLags lags(rules::UsualBody(weight.value > 0 ? weight : kUnknown), rules::RindAir{}.Film());
  rules::WheelFollows wheel;
  const Bucket* before = nullptr;
  double air = 0;
  for (Bucket& quarter : quarters) {
    const Millis since = before ? quarter.from - before->from : Millis::max();
    const double mean = quarter.mean;
    if (before == nullptr || since - kQuarterHour > rules::kLongestSilence) {
      // What it went through unrecorded is not known: the colder of both.
      wheel = rules::WheelFollows::AtRest(before ? std::min(lags.Mean(wheel.at), mean) : mean);
    } else {
      wheel.Follow(lags, air, mean, static_cast<double>(since.count()) / 1000);
    }
    air = mean;
    quarter.mean = lags.Mean(wheel.at);
    before = &quarter;
  }
  return quarters;
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
  const Instant now = context.now();
  auto all = std::make_shared<Gathering>();
  for (const rules::WheelId id : wheels) {
    const WheelRow* wheel = context.book().Wheel(id);
    if (!wheel) continue;
    for (const HungSpan& span : AirWhereItLay(context.book(), *wheel, now)) {
      const auto [told, is_new] = all->channels.try_emplace(span.channel, Told{span.from, span.to, {}});
      told->second.from = std::min(told->second.from, span.from);
      told->second.to = std::max(told->second.to, span.to);
    }
  }
  all->waiting = all->channels.size() + 1;
  const auto arrived = [context, all, wheels, now, done = std::move(done)] {
    if (--all->waiting != 0) return;
    AirDays air;
    for (const rules::WheelId id : wheels) {
      if (const WheelRow* wheel = context.book().Wheel(id)) air[id] = AirOfWheel(context.book(), *wheel, *all, now);
    }
    done(std::move(air));
  };
  std::vector<std::pair<rules::ChannelId, std::pair<Instant, Instant>>> asks;
  Instant first = now;
  for (const auto& [channel, told] : all->channels) {
    asks.push_back({channel, {told.from, told.to}});
    first = std::min(first, told.from);
  }
  const auto doubts = DoubtsIn(context.book(), first, now);
  for (const auto& [channel, span] : asks) {
    // Columns on the quarter hours of the clock, which every day's start is on.
    context.store.History(
        channel, WholeQuarter(span.first), span.second, kQuarterHour,
        [all, arrived, id = channel, of_it = DoubtsOf(context.book(), doubts, channel)](std::vector<Bucket> quarters) {
          // What a stuck probe said proves no day.
          TakeDoubted(quarters, of_it, kQuarterHour);
          all->channels[id].quarters = std::move(quarters);
          arrived();
        });
  }
  arrived();
}

}  // namespace rindwatch
