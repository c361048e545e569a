#include "daemon/api/round_query.hpp"

#include <charconv>

#include "daemon/book/fields.hpp"
#include "daemon/feed/rounds.hpp"
#include "web/complaint.hpp"

namespace rindwatch {

namespace {

constexpr int kLongestDay = 24 * 60;
constexpr std::chrono::days kFarthest{366};

template <typename T>
std::optional<T> NumberFrom(const std::string& text) {
  T number{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return number;
}

struct Field {
  const char* name;
  const char* what;
  const char* expected;
};
constexpr Field kDate{"date", "\"date\" names a day.", "a date such as 2026-11-28, at most a year to come"};
constexpr Field kMinutes{"minutes", "\"minutes\" says how much time there is.", "a whole number from 1 to 1440"};
constexpr Field kDays{"days", "\"days\" says how many days the calendar holds.", "a whole number from 1 to 400"};
constexpr Field kAt{"at", "\"at\" names an instant.", "UTC milliseconds, not to come"};

// False, and complained about, if the query holds the field and `take` does not take it.
bool Read(const web::Request& request, const web::Answer& answer, const Field& field,
          const std::function<bool(const std::string&)>& take) {
  const auto found = request.query.find(field.name);
  if (found == request.query.end() || take(found->second)) return true;
  answer(web::Complain(400,
                       {.what = field.what, .expected = field.expected, .found = found->second, .field = field.name}));
  return false;
}

}  // namespace

void AnswerRoundAsk(const web::Request& request, const web::Answer& answer, rules::Date today,
                    const std::function<web::Response(const RoundAsk&)>& make) {
  RoundAsk ask;
  const auto take_date = [&ask, today](const std::string& text) {
    ask.day = DayFrom(text);
    return ask.day && *ask.day <= today + kFarthest;
  };
  const auto take_minutes = [&ask](const std::string& text) {
    ask.minutes = NumberFrom<int>(text);
    return ask.minutes && *ask.minutes >= 1 && *ask.minutes <= kLongestDay;
  };
  const auto take_at = [&ask](const std::string& text) {
    const auto millis = NumberFrom<std::int64_t>(text);
    if (millis && *millis >= 0) ask.at = rules::FromMillis(*millis);
    return ask.at.has_value();
  };
  if (Read(request, answer, kDate, take_date) && Read(request, answer, kMinutes, take_minutes) &&
      Read(request, answer, kAt, take_at)) {
    answer(make(ask));
  }
}

void AnswerDaysAsk(const web::Request& request, const web::Answer& answer,
                   const std::function<web::Response(int)>& make) {
  int days = feed::kUsualDays;
  const auto take_days = [&days](const std::string& text) {
    const auto number = NumberFrom<int>(text);
    days = number.value_or(0);
    return days >= 1 && days <= feed::kMostDays;
  };
  if (Read(request, answer, kDays, take_days)) answer(make(days));
}

}  // namespace rindwatch
