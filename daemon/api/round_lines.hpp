// Lines, questions and sections of a round, as the API shows them.
#pragma once

#include <boost/json.hpp>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

// The page keeps the element of a line as long as its key stays; two keepers share a round by it.
std::string KeyOf(const rules::RoundLine& line);

boost::json::object RoundLineJson(const ApiContext& context, const rules::Round::Line& line);
boost::json::object RoundQuestionJson(const ApiContext& context, const rules::Round::Ask& ask, rules::Date day);
boost::json::object RoundSectionJson(const rules::RoundSection& section);
boost::json::object BringJson(const rules::Bring& bring, const rules::Round& round);

std::string PlaceName(const Book& book, const rules::RoundPlace& place);
std::string RoundLotName(const Book& book, LotId lot);
// The plan's own words; where a care begins the part and the plan has none: "Pierced?"
std::string QuestionText(const Words& words, const rules::Question& question);
// "now 2 times a week", "from tomorrow 2 times a week".
std::string CadenceNews(const Words& words, const rules::NewCadence& news);
double MinutesOf(double seconds);

}  // namespace rindwatch
