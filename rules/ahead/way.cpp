#include "rules/ahead/way.hpp"

#include <algorithm>
#include <cmath>

#include "rules/care/timeline.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;
constexpr days kOneDay{1};

// The first day on which a road asks once for a kind; none: it never does.
std::optional<int> OnceAsked(const Road& road, CareKind kind) {
  std::optional<int> first;
  for (std::size_t i = 0; i < road.Size(); ++i) {
    for (const Care& care : road[i].cares) {
      const auto* once = std::get_if<OnceOnDay>(&care.cadence);
      if (once && Contains(care.kinds, kind)) first = std::min(first.value_or(once->day), once->day);
    }
  }
  return first;
}

// How many days after the part before the next one can begin, by the plan alone.
days UntilPart(const Part& part, const Road& before) {
  if (const auto kind = BegunBy(part)) {
    if (const auto day = OnceAsked(before, *kind)) return days{*day};
  } else if (part.asked_from) {
    return days{*part.asked_from};
  }
  return days{part.usual_days ? std::lround(part.usual_days->low) : 0};
}

const BranchOption* UsualOption(const Part& part) {
  if (!part.branch) return nullptr;
  const auto& options = part.branch->options;
  const auto usual = std::ranges::find(options, part.branch->default_option, &BranchOption::name);
  return usual == options.end() ? nullptr : &*usual;
}

// The due day of the care that a wheel waits for, as the round has it: moved by care days, entry, absence.
std::optional<Date> DueDay(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked, CareKind kind) {
  for (const CareLine& line : ScheduleAt(wheel, calendar, asked).lines) {
    const bool waits = line.OnRound() || line.state == CareState::kNotYet || line.state == CareState::kOpen;
    if (waits && Contains(line.kinds, kind)) return line.due;
  }
  return std::nullopt;
}

class Way {
 public:
  Way(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked)
      : wheel_(wheel),
        calendar_(calendar),
        asked_(asked),
        known_(StandingKnownAt(wheel, asked)),
        timeline_(known_, calendar.turn),
        today_(calendar.turn.DayOf(asked)),
        now_(timeline_.SpanOn(today_)) {}

  std::optional<Date> DayZero(StartKind start) const {
    if (!now_) return std::nullopt;
    const std::vector<Part>& parts = ThePlan().parts;
    const auto part = std::ranges::find(parts, start, &Part::start);
    if (part == parts.end()) return std::nullopt;
    return DayZero(static_cast<std::size_t>(part - parts.begin()));
  }

  std::vector<WayStage> Stages() const {
    std::vector<WayStage> way = Lived();
    if (!now_) return way;
    for (std::size_t part = now_->part + 1; part < ThePlan().parts.size(); ++part) AddToCome(part, way);
    return way;
  }

 private:
  const Plan& ThePlan() const { return *now_->given->plan; }

  Road RoadOf(std::size_t part) const {
    return part == now_->part ? now_->TheRoad() : Road(ThePlan().parts[part], UsualOption(ThePlan().parts[part]));
  }

  // A part that was passed over has no day of its own: it stands with the one before.
  Date DayZero(std::size_t part) const {
    if (const StartEvent* start = timeline_.StartOfPart(part)) return start->day;
    if (part == 0) return now_->start->day;
    return part < now_->part ? DayZero(part - 1) : DayToCome(part);
  }

  Date DayToCome(std::size_t part) const {
    const Part& coming = ThePlan().parts[part];
    const auto begins = part == now_->part + 1 ? BegunBy(coming) : std::nullopt;
    const auto due = begins ? DueDay(wheel_, calendar_, asked_, *begins) : std::nullopt;
    const Date day = due ? *due : DayZero(part - 1) + UntilPart(coming, RoadOf(part - 1));
    return std::max(day, today_ + kOneDay);
  }

  std::vector<WayStage> Lived() const {
    std::vector<WayStage> way;
    const Segment* before = nullptr;
    for (const Segment& segment : timeline_.Segments()) {
      const Span* span = timeline_.SpanOn(segment.first);
      const Plan* plan = span->given->plan.get();
      // A new version of the plan does not cut a stage in two.
      const bool goes_on = before != nullptr && before->part_start == segment.part_start &&
                           before->stage->name == segment.stage->name && way.back().plan->id == plan->id;
      before = &segment;
      if (goes_on) {
        way.back() = {way.back().from, EndOf(segment), segment.stage, plan, &span->ThePart()};
        continue;
      }
      const Date from = WithDaysZero(segment.first);
      if (!way.empty()) way.back().to = from - kOneDay;
      way.push_back({from, EndOf(segment), segment.stage, plan, &span->ThePart()});
    }
    return way;
  }

  Date WithDaysZero(Date first) const {
    while (timeline_.IsDayZero(first - kOneDay)) first -= kOneDay;
    return first;
  }

  // The last stage goes on beyond its written end.
  std::optional<Date> EndOf(const Segment& segment) const {
    if (segment.last != kForEver) return segment.last;
    if (!segment.stage->last_day) return std::nullopt;
    const Date written = segment.part_start + days{*segment.stage->last_day};
    return written < today_ ? std::nullopt : std::optional(written);
  }

  void AddToCome(std::size_t part, std::vector<WayStage>& way) const {
    const Date start = DayZero(part);
    // What is written beyond the day on which the next part begins is cut off by it.
    while (!way.empty() && way.back().from >= start) way.pop_back();
    if (!way.empty()) way.back().to = start - kOneDay;
    const Road road = RoadOf(part);
    for (std::size_t i = 0; i < road.Size(); ++i) {
      const Stage& stage = road[i];
      WayStage next{i == 0 ? start : start + days{stage.first_day}, {}, &stage, &ThePlan(), &ThePlan().parts[part]};
      if (stage.last_day) next.to = start + days{*stage.last_day};
      next.on_word = i == 0 && !BegunBy(ThePlan().parts[part]);
      way.push_back(next);
    }
  }

  const WheelHistory& wheel_;
  const CareCalendar& calendar_;
  Instant asked_;
  Known known_;
  Timeline timeline_;
  Date today_;
  const Span* now_;  // null: no part has begun
};

}  // namespace

std::vector<WayStage> WayOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  return Way(wheel, calendar, asked).Stages();
}

std::optional<Date> DayZeroOf(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked, StartKind start) {
  return Way(wheel, calendar, asked).DayZero(start);
}

}  // namespace rindwatch::rules
