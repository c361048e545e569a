// The name of an act.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace rindwatch::rules {

// 128 random bits made on the phone, as 32 lower-case hexadecimal digits; lines of the daemon have ids of their own,
// which may be any text. A value of sixteen bytes: a year of a wheel holds hundreds. Ordered as its text.
class ActId {  // NOLINT(cppcoreguidelines-special-member-functions): one operator= takes copies and moved ones
 public:
  ActId() = default;
  // Implicit, since an id is a text wherever it is written down.
  ActId(std::string_view text);                                      // NOLINT(google-explicit-constructor)
  ActId(const std::string& text) : ActId(std::string_view{text}) {}  // NOLINT(google-explicit-constructor)
  ActId(const char* text) : ActId(std::string_view{text}) {}         // NOLINT(google-explicit-constructor)
  ActId(const ActId& other);
  ActId(ActId&& other) noexcept;
  ActId& operator=(ActId other) noexcept;
  ~ActId();

  bool Empty() const { return high_ == 0 && text_ == nullptr; }
  // Thirty-two digits, as a phone makes them; cheap to compare, and nothing else stands behind them.
  bool IsDigits() const { return high_ != 0; }
  std::string Text() const;
  std::size_t Hash() const;

  friend bool operator==(const ActId& a, const ActId& b);
  friend std::strong_ordering operator<=>(const ActId& a, const ActId& b);

 private:
  // The digits as a number; where the upper half is zero, the text itself (null: empty).
  std::uint64_t high_ = 0;
  union {
    std::uint64_t low_;
    std::string* text_ = nullptr;
  };
};

inline std::string ToText(const ActId& id) { return id.Text(); }

}  // namespace rindwatch::rules

template <>
struct std::hash<rindwatch::rules::ActId> {
  std::size_t operator()(const rindwatch::rules::ActId& id) const noexcept { return id.Hash(); }
};
