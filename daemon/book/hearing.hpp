// Who hears what and when, as a keeper chose it.
#pragma once

#include <boost/json/object.hpp>
#include <string>
#include <vector>

#include "daemon/book/line.hpp"
#include "rules/notices/mornings.hpp"

namespace rindwatch {

class Book;

struct Hearing {
  rules::ListReader reader;
  int rank = 1;  // in which order they are asked to come
  std::vector<std::string> mail, webhooks;
  bool leaves = false;

  const std::string& Name() const { return reader.hearer.name; }
  // A keeper without an address hears nothing.
  bool Hears() const { return !leaves && !(mail.empty() && webhooks.empty()); }
};

// Of a body or a fact. Throws ActFault.
Hearing HearingFrom(const boost::json::object& object);
// As HearingFrom reads it, all defaults written out.
boost::json::object ToJson(const Hearing& hearing);

boost::json::object JudgeHearing(const Book& book, const boost::json::object& body, JournalLine& line);

}  // namespace rindwatch
