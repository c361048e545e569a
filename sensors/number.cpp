#include "sensors/number.hpp"

#include <charconv>
#include <system_error>

#include "sensors/first_bytes.hpp"

namespace rindwatch::sensors {
namespace {

constexpr std::size_t kShown = 40;

std::string_view Trimmed(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\r\n";
  const auto first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

std::string Fault(std::string_view found, const char* hint = "") {
  return "expected a number such as 12.5, found \"" + FirstBytes(found, kShown) + "\"" + hint;
}

// "nan" and "inf" are words that the library reads as numbers: a digit must come first.
bool StartsLikeNumber(std::string_view text) {
  if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
  if (text.starts_with('.')) text.remove_prefix(1);
  return !text.empty() && text.front() >= '0' && text.front() <= '9';
}

}  // namespace

std::variant<double, std::string> ReadNumber(std::string_view text) {
  const auto trimmed = Trimmed(text);
  if (trimmed.empty()) return std::string("expected a number such as 12.5, found nothing");
  if (!StartsLikeNumber(trimmed)) return Fault(trimmed);
  const auto number = trimmed.starts_with('+') ? trimmed.substr(1) : trimmed;
  double value = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
  if (error == std::errc::result_out_of_range) return Fault(trimmed, ", which is too large or too small to hold");
  if (error != std::errc{}) return Fault(trimmed);
  if (end == number.data() + number.size()) return value;
  if (*end == ',') return Fault(trimmed, "; write the decimal point as a point");
  return Fault(trimmed, "; send the number alone");
}

}  // namespace rindwatch::sensors
