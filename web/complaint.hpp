// The one shape of every error that leaves over HTTP: what is wrong, what was expected, what was found, what to do.
#pragma once

#include <string>

#include "web/http.hpp"

namespace rindwatch::web {

// Plain words for the keeper; the braces let a part be left out without a warning. Parts that have nothing to say stay
// empty and are sent as empty strings.
struct Complaint {
  std::string what{};
  std::string expected{};
  std::string found{};
  std::string action{};  // what to do; travels as "do"
  std::string field{};   // which part of what was sent, if it is about one part: "wheels[0].made"
};

// {"error":{"what":"","expected":"","found":"","do":""}}, and "field" if there is one. Bytes in `found` that are not
// UTF-8 are shown as "?".
Response Complain(int status, const Complaint& complaint);

}  // namespace rindwatch::web
