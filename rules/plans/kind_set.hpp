// A set of kinds of care: four bytes, in the order of the kinds.
#pragma once

#include <bit>
#include <cstdint>
#include <initializer_list>
#include <iterator>
#include <vector>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules {

class KindSet {
 public:
  class Iterator {
   public:
    using iterator_category = std::input_iterator_tag;
    using difference_type = std::ptrdiff_t;
    using value_type = CareKind;
    using pointer = const CareKind*;
    using reference = CareKind;

    Iterator() = default;
    explicit Iterator(std::uint32_t left) : left_(left) {}
    CareKind operator*() const { return static_cast<CareKind>(std::countr_zero(left_)); }
    Iterator& operator++() {
      left_ &= left_ - 1;
      return *this;
    }
    Iterator operator++(int) {
      const Iterator before = *this;
      ++*this;
      return before;
    }
    bool operator==(const Iterator&) const = default;

   private:
    std::uint32_t left_ = 0;
  };

  constexpr KindSet() = default;
  constexpr KindSet(std::initializer_list<CareKind> kinds) {
    for (const CareKind kind : kinds) Add(kind);
  }
  KindSet(const std::vector<CareKind>& kinds) {  // NOLINT(google-explicit-constructor): as from a list written down
    for (const CareKind kind : kinds) Add(kind);
  }

  constexpr void Add(CareKind kind) { bits_ |= BitOf(kind); }
  constexpr bool Has(CareKind kind) const { return (bits_ & BitOf(kind)) != 0; }
  constexpr bool HasAnyOf(KindSet others) const { return (bits_ & others.bits_) != 0; }
  constexpr bool Empty() const { return bits_ == 0; }
  int Count() const { return std::popcount(bits_); }
  constexpr KindSet Without(KindSet others) const { return KindSet{bits_ & ~others.bits_}; }
  constexpr KindSet With(KindSet others) const { return KindSet{bits_ | others.bits_}; }
  Iterator begin() const { return Iterator{bits_}; }
  Iterator end() const { return Iterator{}; }
  std::vector<CareKind> List() const { return {begin(), end()}; }

  constexpr bool operator==(const KindSet&) const = default;

 private:
  constexpr explicit KindSet(std::uint32_t bits) : bits_(bits) {}
  static constexpr std::uint32_t BitOf(CareKind kind) { return std::uint32_t{1} << static_cast<unsigned>(kind); }

  std::uint32_t bits_ = 0;
};
static_assert(static_cast<unsigned>(kLastCareKind) < 32);

}  // namespace rindwatch::rules
