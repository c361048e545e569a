// What an answer of the API says, by the names in it.
#pragma once

#include <cstdint>
#include <string>

#include "tests/daemon/house/household.hpp"

namespace rindwatch::testing {

inline std::string Text(const json::object& object, const char* name) {
  return std::string(object.at(name).as_string());
}
// By value: what they are taken out of is mostly gone at once.
inline json::object Part(const json::object& object, const char* name) { return object.at(name).as_object(); }
inline json::array List(const json::object& object, const char* name) { return object.at(name).as_array(); }
inline std::int64_t Whole(const json::object& object, const char* name) {
  return object.at(name).to_number<std::int64_t>();
}

}  // namespace rindwatch::testing
