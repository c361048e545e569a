#include "daemon/words/natural.hpp"

#include <cctype>
#include <string_view>

namespace rindwatch {

bool NaturallyBefore(const std::string& a, const std::string& b) {
  const auto is_digit = [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; };
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      std::size_t to_i = i, to_j = j;
      while (to_i < a.size() && is_digit(a[to_i])) ++to_i;
      while (to_j < b.size() && is_digit(b[to_j])) ++to_j;
      const std::string_view x = std::string_view(a).substr(i, to_i - i), y = std::string_view(b).substr(j, to_j - j);
      // Longer means larger, since nobody writes board A007.
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
      i = to_i;
      j = to_j;
    } else {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
    }
  }
  return a.size() - i < b.size() - j;
}

}  // namespace rindwatch
