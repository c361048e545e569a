#include "daemon/book/judge_enter.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/book/fields.hpp"
#include "daemon/book/law.hpp"
#include "daemon/book/places.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::Date;

namespace {

constexpr std::int64_t kMostAtOnce = 2000;

std::shared_ptr<const rules::Plan> PlanNamed(const Book& book, const std::string& id) {
  for (const auto& plan : book.Offered()) {
    if (plan->id == id) return plan;
  }
  throw ActFault{fmt::format("There is no plan called \"{}\".", id), "plan", "a plan of the library", id, ""};
}

Date DayUpTo(const object& from, const char* name, Date earliest, Date today) {
  const Date day = fields::Day(from, name);
  if (day > today) {
    throw ActFault{fmt::format("{} lies in the future; today is {}.", ToText(day), ToText(today)), name,
                   "today or an earlier day", ToText(day), "Choose the day on which it happened."};
  }
  if (day < earliest) {
    throw ActFault{fmt::format("{} lies before {}.", ToText(day), ToText(earliest)), name,
                   "a day from " + ToText(earliest) + " on", ToText(day), ""};
  }
  return day;
}

// The later parts that have begun already, each no earlier than the one before.
json::array StartsOf(const object& body, const rules::Plan& plan, Date made, Date today) {
  json::array starts;
  Date earliest = made;
  for (const json::value& item : fields::Array(body, "starts")) {
    if (!item.is_object())
      throw ActFault{"A start is an object.", "starts", "objects with start and day", "another value", ""};
    const object& start = item.as_object();
    const std::string word = fields::Text(start, "start");
    const auto kind = rules::StartKindFrom(word);
    if (!kind ||
        std::ranges::find(plan.parts.begin() + 1, plan.parts.end(), *kind, &rules::Part::start) == plan.parts.end()) {
      throw ActFault{fmt::format("The plan \"{}\" counts no later part from \"{}\".", plan.family, word), "starts",
                     "a start of the plan", word, ""};
    }
    earliest = DayUpTo(start, "day", earliest, today);
    const json::value* reckoned = start.if_contains("reckoned");
    starts.push_back({{"start", word},
                      {"day", ToText(earliest)},
                      {"reckoned", reckoned != nullptr && reckoned->is_bool() && reckoned->as_bool()}});
  }
  return starts;
}

// "Last turned: yesterday" stands at noon of that day, or a little before now if that is today.
json::array LastCares(const Book& book, const object& body, Date made, Date today, rules::Instant at) {
  json::array lasts;
  if (!body.contains("last")) return lasts;
  for (const json::value& item : fields::Array(body, "last")) {
    if (!item.is_object())
      throw ActFault{"A last care is an object.", "last", "objects with kind and day", "another value", ""};
    const object& last = item.as_object();
    const std::string word = fields::Text(last, "kind");
    if (!rules::CareKindFrom(word)) {
      throw ActFault{fmt::format("Nobody knows a care called \"{}\".", word), "last", "a care such as \"turn\"", word,
                     ""};
    }
    const Date day = DayUpTo(last, "day", made, today);
    const rules::Instant noon = book.Home().zone.ToInstant(rules::LocalTime{day} + std::chrono::hours{12});
    const rules::Instant when = std::max(book.Home().StartOf(day), std::min(noon, at - std::chrono::minutes{1}));
    lasts.push_back({{"kind", word}, {"at", ToMillis(when)}});
  }
  return lasts;
}

}  // namespace

object JudgeEnter(const Book& book, const object& body, JournalLine& line) {
  const auto plan = PlanNamed(book, fields::Text(body, "plan"));
  const Date today = book.Home().DayOf(line.at);
  const Date made = DayUpTo(body, "made", today - std::chrono::days{36'500}, today);
  const std::int64_t count = fields::MaybeWhole(body, "count").value_or(1);
  if (count < 1 || count > kMostAtOnce) {
    throw ActFault{fmt::format("Between 1 and {} wheels enter at once.", kMostAtOnce), "count",
                   fmt::format("1 to {}", kMostAtOnce), std::to_string(count), ""};
  }
  if (const auto grams = fields::MaybeNumber(body, "grams"); grams && (*grams < 20 || *grams > 100'000)) {
    throw ActFault{"A wheel weighs between 20 g and 100 kg.", "grams", "20 to 100000", fmt::format("{}", *grams), ""};
  }
  if (const object* rule = fields::MaybeObject(body, "rule")) RuleFrom(*rule);
  object given;
  given["starts"] = StartsOf(body, *plan, made, today);
  given["last"] = LastCares(book, body, made, today, line.at);
  given["first_start"] = rules::ToText(plan->parts.front().start);
  given["version"] = plan->version;
  // The text is kept with the first wheel: a later program may bring a newer plan, this wheel's stays readable.
  if (!book.IsPlanKept(plan->id, plan->version)) given["plan_text"] = rules::TextOf(*plan);
  GivePlace(book, fields::Object(body, "where"), "where", given);
  const std::int64_t lot = book.NextLot();
  given["lot"] = lot;
  const std::string name = fields::TextOr(body, "lot", "");
  given["lot_name"] = name.empty() ? std::to_string(lot) : name;
  given["first_number"] = book.NextNumberOf(*plan);
  for (std::int64_t n = 0; n < count; ++n) line.wheels.push_back(book.NextWheel() + n);
  line.cave = given.at("cave").to_number<std::int64_t>();
  GiveDoorNumber(book, fields::Object(body, "where"), line, given);
  return given;
}

}  // namespace rindwatch
