// What is said: the text of an exception, beside the matcher for texts and the temporary folder of the store's tests.
#pragma once

#include <exception>
#include <string>

#include "tests/daemon/store/support.hpp"

namespace rindwatch::testing {

// The text of the exception that comes; empty if none does.
template <class Function>
std::string WhatIsSaid(Function function) {
  try {
    function();
  } catch (const std::exception& said) {
    return said.what();
  }
  return {};
}

}  // namespace rindwatch::testing
