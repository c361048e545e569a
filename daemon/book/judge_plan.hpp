// Wheels that change plan, and new versions of plans: an edit, a text that was typed or brought in, a copy.
#pragma once

#include <boost/json.hpp>

#include "daemon/book/book.hpp"

namespace rindwatch {

boost::json::object JudgePlan(const Book& book, const boost::json::object& body, JournalLine& line);
boost::json::object JudgePlanText(const Book& book, const boost::json::object& body, JournalLine& line);

// The plan that a "plan text" act or a preview of it means: read, edited, copied, checked; with its new id and version.
// Either it or what is wrong with the text or the edits. Throws ActFault for everything else.
struct PlanWanted {
  std::shared_ptr<const rules::Plan> plan;
  std::vector<rules::PlanFault> faults;
};
PlanWanted WantedPlan(const Book& book, const boost::json::object& body);

// "begins": the starts of the plan that lie behind each wheel and that its life so far does not name.
void GiveStarts(const Book& book, const JournalLine& line, const rules::Plan& plan, boost::json::object& given);

}  // namespace rindwatch
