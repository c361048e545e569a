// The newest of the values that lines of the journal gave, as far as no undo took them away.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "daemon/book/book.hpp"

namespace rindwatch {

// The newest value that no undo took away; null if none is left.
template <typename T>
const Since<T>* NewestOf(const Book& book, const std::vector<Since<T>>& values, std::optional<rules::WheelId> wheel) {
  const Since<T>* newest = nullptr;
  for (const Since<T>& value : values) {
    if (!book.IsUndone(value.act, wheel) && (!newest || newest->from <= value.from)) newest = &value;
  }
  return newest;
}

// The values that no undo took away, by when they began.
template <typename T>
std::vector<const Since<T>*> NotUndone(const Book& book, const std::vector<Since<T>>& values,
                                       std::optional<rules::WheelId> wheel) {
  std::vector<const Since<T>*> standing;
  for (const Since<T>& value : values) {
    if (!book.IsUndone(value.act, wheel)) standing.push_back(&value);
  }
  std::ranges::stable_sort(standing, {}, [](const Since<T>* value) { return value->from; });
  return standing;
}

// As it stood at an instant; null: nothing was said until then.
template <typename T>
const T* AsOf(const Book& book, const std::vector<Since<T>>& values, std::optional<rules::WheelId> wheel,
              rules::Instant at) {
  const T* newest = nullptr;
  for (const auto* value : NotUndone(book, values, wheel)) {
    if (value->from <= at) newest = &value->value;
  }
  return newest;
}

}  // namespace rindwatch
