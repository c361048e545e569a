// Reading years of messages takes as long as thinking about them: while one batch is visited, the next is read.
#pragma once

#include <functional>

#include "daemon/store/store.hpp"

namespace rindwatch {

// Answers whether to go on.
using VisitInput = std::function<bool(const Committed&)>;

// `read` runs on a thread of its own and gives what it reads to the visitor that it gets, until that says no. What it
// gave is visited on the caller's thread, in the same order, until `visit` says no; when this returns, `read` has
// ended. Two batches are held, however much is read. What either throws comes out here; what was read before is visited
// first.
void ReadAhead(const std::function<void(const VisitInput&)>& read, const VisitInput& visit);

}  // namespace rindwatch
