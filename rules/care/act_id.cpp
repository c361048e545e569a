#include "rules/care/act_id.hpp"

#include <array>
#include <optional>
#include <utility>

namespace rindwatch::rules {
namespace {

constexpr std::size_t kDigits = 16;  // of one half

std::optional<std::uint64_t> FromDigits(std::string_view digits) {
  std::uint64_t number = 0;
  for (const char digit : digits) {
    const bool decimal = digit >= '0' && digit <= '9';
    if (!decimal && (digit < 'a' || digit > 'f')) return std::nullopt;
    number = number << 4U | static_cast<std::uint64_t>(decimal ? digit - '0' : digit - 'a' + 10);
  }
  return number;
}

void WriteDigits(std::uint64_t number, char* end) {
  for (std::size_t i = 0; i < kDigits; ++i, number >>= 4U) *--end = "0123456789abcdef"[number & 15U];
}

}  // namespace

ActId::ActId(std::string_view text) {
  if (text.size() == 2 * kDigits) {
    const auto high = FromDigits(text.substr(0, kDigits)), low = FromDigits(text.substr(kDigits));
    if (high && low && *high != 0) {
      high_ = *high;
      low_ = *low;
      return;
    }
  }
  if (!text.empty()) text_ = new std::string(text);
}

ActId::ActId(const ActId& other) : high_(other.high_) {
  if (IsDigits()) {
    low_ = other.low_;
  } else if (other.text_) {
    text_ = new std::string(*other.text_);
  }
}

ActId::ActId(ActId&& other) noexcept : high_(std::exchange(other.high_, 0)) {
  if (IsDigits()) {
    low_ = other.low_;
    other.text_ = nullptr;
  } else {
    text_ = std::exchange(other.text_, nullptr);
  }
}

ActId& ActId::operator=(ActId other) noexcept {
  if (!IsDigits()) delete text_;
  high_ = std::exchange(other.high_, 0);
  if (IsDigits()) {
    low_ = other.low_;
    other.text_ = nullptr;
  } else {
    text_ = std::exchange(other.text_, nullptr);
  }
  return *this;
}

ActId::~ActId() {
  if (!IsDigits()) delete text_;
}

std::string ActId::Text() const {
  if (!IsDigits()) return text_ ? *text_ : std::string{};
  std::array<char, 2 * kDigits> digits{};
  WriteDigits(high_, digits.data() + kDigits);
  WriteDigits(low_, digits.data() + 2 * kDigits);
  return {digits.data(), digits.size()};
}

std::size_t ActId::Hash() const {
  if (IsDigits()) return static_cast<std::size_t>(high_ ^ low_ * 0x9e3779b97f4a7c15U);
  return text_ ? std::hash<std::string>{}(*text_) : 0;
}

bool operator==(const ActId& a, const ActId& b) {
  if (a.high_ != b.high_) return false;
  if (a.IsDigits()) return a.low_ == b.low_;
  return a.text_ == b.text_ || (a.text_ != nullptr && b.text_ != nullptr && *a.text_ == *b.text_);
}

std::strong_ordering operator<=>(const ActId& a, const ActId& b) {
  if (!a.IsDigits() || !b.IsDigits()) return a.Text() <=> b.Text();
  return a.high_ != b.high_ ? a.high_ <=> b.high_ : a.low_ <=> b.low_;
}

}  // namespace rindwatch::rules
