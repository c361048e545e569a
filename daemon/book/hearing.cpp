#include "daemon/book/hearing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <charconv>

#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/config/notices.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using std::chrono::minutes;

namespace {

constexpr std::size_t kMostAddresses = 5;
constexpr std::size_t kMostHolidays = 20;
constexpr std::size_t kLongestName = 24;

// "06:30"
minutes TimeFrom(const object& body, const char* name) {
  const std::string text = fields::Text(body, name);
  const auto number = [&](std::size_t from) {
    int value = -1;
    const char* begin = text.data() + from;
    const auto [end, error] = std::from_chars(begin, begin + 2, value);
    return error == std::errc{} && end == begin + 2 ? value : -1;
  };
  if (text.size() == 5 && text[2] == ':') {
    const int hour = number(0), minute = number(3);
    if (hour >= 0 && hour < 24 && minute >= 0 && minute < 60) return minutes{hour * 60 + minute};
  }
  throw ActFault{fmt::format("{} should be an hour such as 06:30, found {}.", name, text), name,
                 "an hour such as 06:30", text, ""};
}

std::string TimeText(minutes time) { return fmt::format("{:02}:{:02}", time.count() / 60, time.count() % 60); }

std::vector<std::string> Addresses(const object& body, const char* name) {
  std::vector<std::string> all;
  if (body.contains(name)) all = fields::Texts(body, name);
  if (all.size() > kMostAddresses) {
    throw ActFault{fmt::format("A keeper hears by at most {} addresses of a kind.", kMostAddresses), name,
                   fmt::format("at most {}", kMostAddresses), std::to_string(all.size()), "Leave some out."};
  }
  return all;
}

void CheckMail(const std::vector<std::string>& mail) {
  for (const std::string& address : mail) {
    if (IsMailAddress(address)) continue;
    throw ActFault{fmt::format("\"{}\" is no mail address.", address), "mail", "an address such as ih@example.org",
                   address, "Write it again."};
  }
}

std::vector<rules::Holiday> HolidaysFrom(const object& body) {
  std::vector<rules::Holiday> holidays;
  if (!body.contains("holidays")) return holidays;
  for (const json::value& item : fields::Array(body, "holidays")) {
    if (!item.is_object())
      throw ActFault{"A holiday has a first day and a day back.", "holidays", "from and back", "", ""};
    const rules::Holiday one{fields::Day(item.as_object(), "from"), fields::Day(item.as_object(), "back")};
    if (one.back <= one.from) {
      throw ActFault{"A holiday ends after it begins.", "holidays", "a later day", ToText(one.back),
                     "The day back is the first one there again."};
    }
    holidays.push_back(one);
  }
  if (holidays.size() > kMostHolidays)
    throw ActFault{"So many holidays are not kept.", "holidays", fmt::format("at most {}", kMostHolidays), "", ""};
  return holidays;
}

template <typename T>
T OneOf(const object& body, const char* name, std::optional<T> (*from)(std::string_view), T otherwise,
        const char* expected) {
  const std::string text = fields::TextOr(body, name, "");
  if (text.empty()) return otherwise;
  if (const auto value = from(text)) return *value;
  throw ActFault{fmt::format("{} should be {}, found {}.", name, expected, text), name, expected, text, ""};
}

}  // namespace

Hearing HearingFrom(const object& body) {
  Hearing hearing;
  hearing.reader.hearer.name = fields::TextOr(body, "name", "");
  if (hearing.Name().size() > kLongestName)
    throw ActFault{"Initials are shorter.", "name", fmt::format("at most {} bytes", kLongestName), hearing.Name(), ""};
  hearing.leaves = fields::TruthOr(body, "leaves", false);
  if (hearing.leaves) return hearing;
  if (const auto rank = fields::MaybeWhole(body, "rank"))
    hearing.rank = static_cast<int>(std::clamp<std::int64_t>(*rank, 1, 99));
  hearing.mail = Addresses(body, "mail");
  hearing.webhooks = Addresses(body, "webhooks");
  rules::ListReader& reader = hearing.reader;
  reader.hearer.least =
      OneOf(body, "least", rules::SeverityFrom, rules::Severity::kWatch, "hint, watch, act or urgent");
  reader.habit = OneOf(body, "list", rules::ListHabitFrom, rules::ListHabit::kWork, "work, daily or never");
  if (const object* quiet = fields::MaybeObject(body, "quiet"))
    reader.hearer.quiet = rules::QuietHours{TimeFrom(*quiet, "from"), TimeFrom(*quiet, "to")};
  if (body.contains("morning")) reader.morning = TimeFrom(body, "morning");
  if (const json::value* evening = body.if_contains("evening")) {
    reader.evening.reset();
    if (!evening->is_null()) reader.evening = TimeFrom(body, "evening");
  }
  reader.hearer.holidays = HolidaysFrom(body);
  return hearing;
}

object ToJson(const Hearing& hearing) {
  const rules::ListReader& reader = hearing.reader;
  object told{{"name", hearing.Name()}};
  if (hearing.leaves) {
    told["leaves"] = true;
    return told;
  }
  told["rank"] = hearing.rank;
  told["mail"] = json::value_from(hearing.mail);
  told["webhooks"] = json::value_from(hearing.webhooks);
  told["least"] = rules::ToText(reader.hearer.least);
  told["list"] = rules::ToText(reader.habit);
  told["morning"] = TimeText(reader.morning);
  told["evening"] = reader.evening ? json::value(TimeText(*reader.evening)) : json::value(nullptr);
  told["quiet"] = nullptr;
  if (const auto& quiet = reader.hearer.quiet)
    told["quiet"] = {{"from", TimeText(quiet->from)}, {"to", TimeText(quiet->to)}};
  json::array holidays;
  for (const rules::Holiday& holiday : reader.hearer.holidays)
    holidays.push_back({{"from", ToText(holiday.from)}, {"back", ToText(holiday.back)}});
  told["holidays"] = std::move(holidays);
  return told;
}

object JudgeHearing(const Book& book, const object& body, JournalLine&) {
  const Hearing hearing = HearingFrom(body);
  CheckMail(hearing.mail);
  if (!hearing.leaves) return {{"hearing", ToJson(hearing)}};
  const auto hearings = book.Hearings();
  if (std::ranges::find(hearings, hearing.Name(), &Hearing::Name) == hearings.end()) {
    throw ActFault{"Nobody of this name hears anything yet.", "name", "a keeper who hears", hearing.Name(),
                   "Load the page anew; another phone may have taken the name out."};
  }
  return {{"hearing", ToJson(hearing)}};
}

std::vector<Hearing> Book::Hearings() const {
  std::vector<Hearing> hearings;
  for (const auto* said : NotUndone(*this, settings_.hearings, std::nullopt)) {
    std::erase_if(hearings, [&](const Hearing& one) { return one.Name() == said->value.Name(); });
    if (said->value.leaves) continue;
    hearings.push_back(said->value);
    hearings.back().reader.since = said->from;
  }
  std::ranges::stable_sort(hearings, {}, &Hearing::rank);
  return hearings;
}

}  // namespace rindwatch
