// Which caves stand in which, however deep: a box in a fridge in a room shares the room's air with whoever works at it.
#pragma once

#include "daemon/book/book.hpp"

namespace rindwatch {

// The cave itself, or one that it stands in. A cave is inside one that came before it, so this ends.
inline bool IsWithin(const Book& book, rules::CaveId id, rules::CaveId outer) {
  for (const CaveRow* cave = book.Cave(id); cave; cave = cave->inside ? book.Cave(*cave->inside) : nullptr)
    if (cave->id == outer) return true;
  return id == outer;
}

}  // namespace rindwatch
