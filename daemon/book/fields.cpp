#include "daemon/book/fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <set>

namespace rindwatch {

namespace json = boost::json;

namespace {

std::string Shown(const json::value* value) {
  if (!value) return "nothing";
  std::string text = json::serialize(*value);
  if (text.size() > 60) text = text.substr(0, 57) + "...";
  return text;
}

[[noreturn]] void Fail(const json::object& object, const char* name, const char* expected) {
  const std::string found = Shown(object.if_contains(name));
  throw ActFault{fmt::format("{} should be {}, found {}.", name, expected, found), name, expected, found, ""};
}

const json::value* Given(const json::object& object, const char* name) {
  const json::value* value = object.if_contains(name);
  return value && !value->is_null() ? value : nullptr;
}

std::optional<int> TwoDigits(std::string_view text) {
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace

std::optional<rules::Date> DayFrom(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto year = TwoDigits(text.substr(0, 4)), month = TwoDigits(text.substr(5, 2)), day = TwoDigits(text.substr(8));
  if (!year || !month || !day || *month < 1 || *day < 1) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                                         std::chrono::day{static_cast<unsigned>(*day)}};
  if (!date.ok()) return std::nullopt;
  return rules::Date{date};
}

bool IsActId(std::string_view text) {
  return text.size() == 32 &&
         std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

namespace fields {

std::string LongText(const json::object& object, const char* name, std::size_t most_bytes) {
  const json::value* value = Given(object, name);
  if (!value || !value->is_string() || value->as_string().empty()) Fail(object, name, "a text");
  if (value->as_string().size() > most_bytes) {
    Fail(object, name, fmt::format("a text of at most {} bytes", most_bytes).c_str());
  }
  return std::string(value->as_string());
}

std::string Text(const json::object& object, const char* name) { return LongText(object, name, 2000); }

std::string AnyText(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  return value && value->is_string() ? std::string(value->as_string()) : std::string{};
}

std::string TextOr(const json::object& object, const char* name, const char* otherwise) {
  const json::value* value = Given(object, name);
  if (!value) return otherwise;
  if (!value->is_string() || value->as_string().size() > 2000) Fail(object, name, "a text of at most 2000 bytes");
  return std::string(value->as_string());
}

std::int64_t Whole(const json::object& object, const char* name) {
  const auto value = MaybeWhole(object, name);
  if (!value) Fail(object, name, "a whole number");
  return *value;
}

std::optional<std::int64_t> MaybeWhole(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value) return std::nullopt;
  if (!value->is_number()) Fail(object, name, "a whole number");
  boost::system::error_code error;
  const auto whole = value->to_number<std::int64_t>(error);
  if (error) Fail(object, name, "a whole number");
  return whole;
}

std::optional<double> MaybeNumber(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value) return std::nullopt;
  if (!value->is_number()) Fail(object, name, "a number");
  const auto number = value->to_number<double>();
  if (!std::isfinite(number)) Fail(object, name, "a finite number");
  return number;
}

double Number(const json::object& object, const char* name) {
  const auto number = MaybeNumber(object, name);
  if (!number) Fail(object, name, "a number");
  return *number;
}

bool Truth(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value || !value->is_bool()) Fail(object, name, "true or false");
  return value->as_bool();
}

bool TruthOr(const json::object& object, const char* name, bool otherwise) {
  return Given(object, name) ? Truth(object, name) : otherwise;
}

rules::Instant At(const json::object& object, const char* name) {
  const auto at = MaybeAt(object, name);
  if (!at) Fail(object, name, "an instant in milliseconds since 1970");
  return *at;
}

std::optional<rules::Instant> MaybeAt(const json::object& object, const char* name) {
  const auto value = MaybeWhole(object, name);
  if (!value) return std::nullopt;
  // 1970 to 2286: what a clock may show, however wrong it is.
  if (*value < 0 || *value > 10'000'000'000'000) Fail(object, name, "an instant in milliseconds since 1970");
  return rules::FromMillis(*value);
}

rules::Date Day(const json::object& object, const char* name) {
  const auto day = MaybeDay(object, name);
  if (!day) Fail(object, name, "a day such as 2026-11-25");
  return *day;
}

std::optional<rules::Date> MaybeDay(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value) return std::nullopt;
  const auto day = value->is_string() ? DayFrom(value->as_string()) : std::nullopt;
  if (!day) Fail(object, name, "a day such as 2026-11-25");
  return day;
}

std::vector<std::int64_t> Numbers(const json::object& object, const char* name) {
  std::vector<std::int64_t> numbers;
  std::set<std::int64_t> seen;
  for (const json::value& item : Array(object, name)) {
    boost::system::error_code error;
    const auto number = item.is_number() ? item.to_number<std::int64_t>(error) : 0;
    if (error || number < 1) Fail(object, name, "a list of numbers from 1 on");
    if (seen.insert(number).second) numbers.push_back(number);
  }
  return numbers;
}

std::vector<std::int64_t> NumbersOr(const json::object& object, const char* name) {
  return Given(object, name) ? Numbers(object, name) : std::vector<std::int64_t>{};
}

std::vector<std::string> Texts(const json::object& object, const char* name) {
  std::vector<std::string> texts;
  std::set<std::string> seen;
  for (const json::value& item : Array(object, name)) {
    if (!item.is_string() || item.as_string().empty() || item.as_string().size() > 200) {
      Fail(object, name, "a list of texts of 1 to 200 bytes");
    }
    if (seen.insert(std::string(item.as_string())).second) texts.emplace_back(item.as_string());
  }
  return texts;
}

std::vector<rules::WheelId> Wheels(const json::object& object, const char* name) {
  std::vector<rules::WheelId> wheels = Numbers(object, name);
  std::ranges::sort(wheels);
  return wheels;
}

std::vector<rules::CareKind> Kinds(const json::object& object, const char* name) {
  std::vector<rules::CareKind> kinds;
  if (!Given(object, name)) return kinds;
  for (const json::value& item : Array(object, name)) {
    const auto kind = item.is_string() ? rules::CareKindFrom(std::string_view(item.as_string())) : std::nullopt;
    if (!kind) Fail(object, name, "a list of cares such as [\"turn\", \"wash\"]");
    if (std::ranges::find(kinds, *kind) == kinds.end()) kinds.push_back(*kind);
  }
  return kinds;
}

const json::object& Object(const json::object& object, const char* name) {
  const json::object* found = MaybeObject(object, name);
  if (!found) Fail(object, name, "an object");
  return *found;
}

const json::object* MaybeObject(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value) return nullptr;
  if (!value->is_object()) Fail(object, name, "an object");
  return &value->as_object();
}

const json::array& Array(const json::object& object, const char* name) {
  const json::value* value = Given(object, name);
  if (!value || !value->is_array()) Fail(object, name, "a list");
  if (value->as_array().size() > 20'000) Fail(object, name, "a list of at most 20000");
  return value->as_array();
}

}  // namespace fields

}  // namespace rindwatch
