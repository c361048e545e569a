// A span that a keeper typed in, as facts hold it.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/fields.hpp"

namespace rindwatch {

// {low, high} under a name; none if there is no such field.
inline std::optional<rules::Figure> SpanFrom(const boost::json::object& object, const char* name) {
  const boost::json::object* span = fields::MaybeObject(object, name);
  if (!span) return std::nullopt;
  return rules::Figure{span->at("low").to_number<double>(), span->at("high").to_number<double>(), "typed in"};
}

}  // namespace rindwatch
