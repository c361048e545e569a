#include "sensors/own_time.hpp"

#include <chrono>
#include <cmath>
#include <cstdint>
#include <variant>

#include "sensors/number.hpp"

namespace rindwatch::sensors {
namespace {

constexpr double kMillisecondsFrom = 1e11;
constexpr double kLargest = 2.5e14;  // milliseconds: the year 9892, far inside what an Instant holds

// Eats its way through a text. What fails once stays failed, so the steps need no checks between them.
class Scanner {
 public:
  explicit Scanner(std::string_view rest) : rest_(rest) {}

  int Digits(std::size_t count) {
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) value = value * 10 + Digit();
    return value;
  }
  bool MaybeEat(char wanted) {
    if (rest_.empty() || rest_.front() != wanted) return false;
    rest_.remove_prefix(1);
    return true;
  }
  void Eat(char wanted) { ok_ = MaybeEat(wanted) && ok_; }
  bool HasDigit() const { return !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9'; }
  int Digit() {
    if (!HasDigit()) {
      ok_ = false;
      return 0;
    }
    const int value = rest_.front() - '0';
    rest_.remove_prefix(1);
    return value;
  }
  void Fail() { ok_ = false; }
  bool IsDone() const { return ok_ && rest_.empty(); }

 private:
  std::string_view rest_;
  bool ok_ = true;
};

// Milliseconds; finer digits are cut off.
int Fraction(Scanner& scan) {
  if (!scan.MaybeEat('.') && !scan.MaybeEat(',')) return 0;
  int value = scan.Digit() * 100;
  for (const int weight : {10, 1}) {
    if (scan.HasDigit()) value += scan.Digit() * weight;
  }
  while (scan.HasDigit()) scan.Digit();
  return value;
}

std::chrono::minutes Offset(Scanner& scan) {
  if (scan.MaybeEat('Z') || scan.MaybeEat('z')) return {};
  const bool west = scan.MaybeEat('-');
  if (!west) scan.Eat('+');
  const int hours = scan.Digits(2);
  const bool colon = scan.MaybeEat(':');
  const int minutes = colon || scan.HasDigit() ? scan.Digits(2) : 0;
  if (hours > 23 || minutes > 59) scan.Fail();
  const auto size = std::chrono::hours{hours} + std::chrono::minutes{minutes};
  return west ? -size : size;
}

std::optional<rules::Instant> FromIso(std::string_view text) {
  Scanner scan(text);
  const int year = scan.Digits(4);
  scan.Eat('-');
  const int month = scan.Digits(2);
  scan.Eat('-');
  const int day = scan.Digits(2);
  if (!scan.MaybeEat('T') && !scan.MaybeEat('t')) scan.Eat(' ');
  const int hour = scan.Digits(2);
  scan.Eat(':');
  const int minute = scan.Digits(2);
  scan.Eat(':');
  const int second = scan.Digits(2);  // 60 is a leap second, counted as the next minute's first
  const int millisecond = Fraction(scan);
  const auto offset = Offset(scan);
  const auto date = std::chrono::year{year} / month / day;
  if (!scan.IsDone() || !date.ok() || hour > 23 || minute > 59 || second > 60) return std::nullopt;
  return std::chrono::sys_days{date} + std::chrono::hours{hour} + std::chrono::minutes{minute} +
         std::chrono::seconds{second} + rules::Millis{millisecond} - offset;
}

}  // namespace

std::optional<rules::Instant> OwnTimeFromNumber(double since_epoch) {
  const double millis = std::abs(since_epoch) >= kMillisecondsFrom ? since_epoch : since_epoch * 1000.0;
  if (!std::isfinite(millis) || std::abs(millis) > kLargest) return std::nullopt;
  return rules::FromMillis(std::llround(millis));
}

std::optional<rules::Instant> OwnTimeFromText(std::string_view text) {
  if (auto at = FromIso(text)) return at;
  const auto number = ReadNumber(text);
  if (const auto* value = std::get_if<double>(&number)) return OwnTimeFromNumber(*value);
  return std::nullopt;
}

}  // namespace rindwatch::sensors
