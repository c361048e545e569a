#include "rules/round/short_round.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace rindwatch::rules {

namespace {

using std::chrono::days;

int LossIfLate(CareKind kind, const Standing& standing) {
  const bool young = standing.stage != nullptr && (standing.stage->state == WheelState::kDrying ||
                                                   standing.stage->state == WheelState::kRindForming);
  switch (kind) {
    case CareKind::kWash:
    case CareKind::kRub:
    case CareKind::kSalt:
      return young ? 6 : 4;
    case CareKind::kTurn:
      // A young or soft one sticks to its board and tears.
      return young || standing.plan->hardiness == 0 ? 5 : 1;
    case CareKind::kPat:
      return 5;
    case CareKind::kWipe:
    case CareKind::kCoat:
    case CareKind::kOil:
    case CareKind::kPierce:
      return 3;
    case CareKind::kWrap:
    case CareKind::kMove:
    case CareKind::kWax:
    case CareKind::kBandage:
    case CareKind::kBrush:
      return 2;
    case CareKind::kLook:
    case CareKind::kWeigh:
    case CareKind::kTaste:
      return 0;
  }
  return 0;
}

// Minutes of some lines of a round, the changes before their sections counted in.
class Sum {
 public:
  explicit Sum(const Round& round) : round_(round) {}
  int MinutesWith(std::size_t line) const { return With(line).Minutes(); }
  void Add(std::size_t line) {
    sum_ = With(line);
    sections_.insert(round_.lines[line].section);
  }
  int Minutes() const { return sum_.Minutes(); }

 private:
  MinuteSum With(std::size_t line) const {
    const Round::Line& at = round_.lines[line];
    const RoundSection& section = round_.sections[at.section];
    MinuteSum sum = sum_;
    sum.AddLine(at.line->seconds);
    if (!section.begun && !sections_.contains(at.section)) sum.AddChange(section.seconds);
    return sum;
  }
  const Round& round_;
  MinuteSum sum_;
  std::set<std::size_t> sections_;
};

std::vector<std::size_t> MostPressingFirst(const Round& round) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < round.lines.size(); ++i) {
    if (round.lines[i].line->care->OnRound()) order.push_back(i);
  }
  const auto press = [&](std::size_t i) {
    const RoundLine& line = *round.lines[i].line;
    // What is past its window, or leaves it today, cannot wait; among what cannot wait harm decides.
    const auto room = std::max<std::int64_t>(0, (line.care->window_end - round.day).count());
    return std::tuple(room, -HarmOfWaiting(line), line.care->due, i);
  };
  std::ranges::sort(order, {}, press);
  return order;
}

class Diary {
 public:
  explicit Diary(const std::function<int(Date)>& minutes_on) : minutes_on_(minutes_on) {}
  // The least busy of the days, the earlier of two.
  Date Choose(Date first, Date last, int minutes) {
    Date best = first;
    for (Date day = first; day <= last; day += days{1}) {
      if (On(day) < On(best)) best = day;
    }
    minutes_.at(best) += minutes;
    return best;
  }

 private:
  int On(Date day) {
    const auto found = minutes_.find(day);
    return found != minutes_.end() ? found->second : minutes_[day] = minutes_on_(day);
  }
  const std::function<int(Date)>& minutes_on_;
  std::map<Date, int> minutes_;
};

}  // namespace

int HarmOfWaiting(const RoundLine& line) {
  int most = 0;
  for (const CareKind kind : line.care->kinds) most = std::max(most, LossIfLate(kind, line.TheStanding()));
  return line.mark == FaultKind::kSlime ? most + 2 : most;
}

ShortRound Shorten(const Round& round, int minutes, const std::function<int(Date)>& minutes_on) {
  ShortRound result;
  result.asked = minutes;
  Sum sum(round);
  Diary diary(minutes_on);
  for (const std::size_t i : MostPressingFirst(round)) {
    if (sum.MinutesWith(i) <= minutes) {
      sum.Add(i);
      result.kept.push_back(i);
      continue;
    }
    const RoundLine& line = *round.lines[i].line;
    const Date tomorrow = round.day + days{1};
    const Date last = std::max(tomorrow, line.care->window_end);
    const Date to = diary.Choose(tomorrow, last, InWholeMinutes(line.seconds));
    result.moved.push_back({i, to, to > line.care->window_end});
  }
  std::ranges::sort(result.kept);
  std::ranges::sort(result.moved, {}, &ShortRound::Moved::line);
  result.used = sum.Minutes();
  return result;
}

}  // namespace rindwatch::rules
