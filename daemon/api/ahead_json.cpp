#include <algorithm>
#include <map>
#include <tuple>

#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/lives.hpp"
#include "rules/ahead/ready.hpp"
#include "rules/round/coming.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::Date;
using rules::ReadyWindow;
using std::chrono::days;

namespace {

Date MondayOf(Date day) { return day - (rules::WeekdayOf(day) - std::chrono::Monday); }

// Wheels of one lot that are ready together.
struct ReadyWheels {
  std::string lot, family;
  std::vector<ReadyWindow> windows;  // the first is that of the road they follow
  std::vector<rules::WheelId> wheels;
};

json::array IdsJson(const std::vector<rules::WheelId>& wheels) {
  json::array array;
  for (const rules::WheelId wheel : wheels) array.push_back(wheel);
  return array;
}

bool Holds(const ReadyWindow& window, Date day) { return window.from <= day && day <= window.to; }

class LookingAhead {
 public:
  LookingAhead(const ApiContext& context, const AheadQuestion& question)
      : context_(context),
        question_(question),
        today_(context.book().Home().DayOf(context.now())),
        monday_(MondayOf(today_)),
        lives_(LivesOf(context.book())) {
    FindReady();
    CountMinutes();
  }

  json::object Json() const {
    json::array weeks;
    for (int week = 0; week < question_.weeks; ++week) weeks.push_back(WeekJson(monday_ + days{7 * week}, week == 0));
    json::object object{{"head", HeadJson(context_)}, {"weeks", std::move(weeks)}};
    if (const auto busiest = std::ranges::max_element(minutes_, {}, [](const auto& day) { return day.second; });
        busiest != minutes_.end() && busiest->second > 0) {
      object["busiest"] = {{"day", DayJson(busiest->first)}, {"minutes", busiest->second}};
    }
    if (question_.wanted) object["wanted"] = WantedJson(*question_.wanted);
    return object;
  }

 private:
  rules::CareCalendar CalendarOf(const Life& life) const {
    return context_.book().CalendarOf(life.cave ? std::optional(life.cave->id) : std::nullopt);
  }

  void FindReady() {
    const Book& book = context_.book();
    std::map<std::tuple<LotId, Date, Date, std::size_t>, std::size_t> known;
    for (const Life& life : lives_) {
      const WheelRow& first = life.First();
      const auto windows = rules::ReadyWindowsOf(first.History(), CalendarOf(life), context_.now());
      if (windows.empty()) continue;
      // Wheels of one life may have been split off into another lot.
      for (const WheelRow* wheel : life.wheels) {
        const auto [same, is_new] =
            known.try_emplace({wheel->lot, windows[0].from, windows[0].to, windows.size()}, ready_.size());
        if (is_new) {
          ready_.push_back({LotName(book, *wheel), ShortFamily(*first.History().plans.back().plan), windows, {}});
        }
        ready_[same->second].wheels.push_back(wheel->id);
      }
    }
  }

  // By the round's own reckoning, as terminal and list tell them.
  void CountMinutes() {
    if (const int today = context_.watch.TodaysRound().work.Minutes(); today > 0) minutes_[today_] = today;
    const int span = static_cast<int>((monday_ + days{7 * question_.weeks} - today_).count());
    for (const rules::ComingDay& day : context_.watch.ComingDays(span)) minutes_[day.day] = day.minutes;
  }

  json::object WeekJson(Date monday, bool first) const {
    const Date sunday = monday + days{6};
    json::array minutes;
    for (Date day = monday; day <= sunday; day += days{1}) {
      const auto found = minutes_.find(day);
      minutes.push_back(day < today_ ? -1 : found == minutes_.end() ? 0 : found->second);
    }
    json::array ready, eat_by;
    for (const ReadyWheels& wheels : ready_) {
      for (const ReadyWindow& window : wheels.windows) AddReady(wheels, window, monday, first, ready);
      const ReadyWindow& follows = wheels.windows.front();
      if (follows.to < std::max(monday, today_) || follows.to > sunday) continue;
      eat_by.push_back({{"wheels", IdsJson(wheels.wheels)},
                        {"lot", wheels.lot},
                        {"family", wheels.family},
                        {"by", DayJson(follows.to)}});
    }
    return {{"monday", DayJson(monday)},
            {"minutes", std::move(minutes)},
            {"ready", std::move(ready)},
            {"eat_by", std::move(eat_by)}};
  }

  // What is ready already stands in the first week, as long as its window is open.
  void AddReady(const ReadyWheels& wheels, const ReadyWindow& window, Date monday, bool first,
                json::array& into) const {
    const bool this_week = window.from >= monday && window.from <= monday + days{6};
    const bool already = first && window.from < monday && window.to >= today_;
    if (!this_week && !already) return;
    into.push_back({{"wheels", IdsJson(wheels.wheels)},
                    {"lot", wheels.lot},
                    {"family", wheels.family},
                    {"from", DayJson(window.from)},
                    {"to", DayJson(window.to)},
                    {"young", window.young}});
  }

  json::object WantedJson(Date wanted) const {
    std::size_t ready = 0, past = 0;
    for (const ReadyWheels& wheels : ready_) {
      const auto holds = [&](const ReadyWindow& window) { return Holds(window, wanted); };
      if (std::ranges::any_of(wheels.windows, holds)) {
        ready += wheels.wheels.size();
      } else if (std::ranges::all_of(wheels.windows, [&](const ReadyWindow& window) { return window.to < wanted; })) {
        past += wheels.wheels.size();
      }
    }
    json::array make;
    for (const auto& plan : context_.book().Offered()) {
      const auto window = rules::MakeWindowFor(*plan, wanted, today_);
      if (!window) continue;
      make.push_back({{"plan", plan->id},
                      {"family", ShortFamily(*plan)},
                      {"from", DayJson(window->from)},
                      {"to", DayJson(window->to)},
                      {"young", window->young},
                      {"possible", window->possible}});
    }
    return {{"day", DayJson(wanted)}, {"ready", ready}, {"past", past}, {"make", std::move(make)}};
  }

  const ApiContext& context_;
  const AheadQuestion& question_;
  const Date today_, monday_;
  const std::vector<Life> lives_;
  std::vector<ReadyWheels> ready_;
  std::map<Date, int> minutes_;
};

}  // namespace

json::object AheadJson(const ApiContext& context, const AheadQuestion& question) {
  return LookingAhead(context, question).Json();
}

}  // namespace rindwatch
