// Lines, questions and sections of a round, as the API shows them.
#pragma once

#include <boost/json.hpp>
#include <string>

#include "daemon/api/context.hpp"
#include "daemon/round/round.hpp"

namespace rindwatch {

// The page keeps the element of a line as long as its key stays; two keepers share a round by it.
std::string KeyOf(const rules::RoundLine& line);

// `looks`: what to look at first that is not said at another line of its place.
boost::json::object RoundLineJson(const ApiContext& context, const rules::Round::Line& line,
                                  const std::vector<rules::LookFirst>& looks);
boost::json::object RoundQuestionJson(const ApiContext& context, const rules::Round::Ask& ask);
boost::json::object RoundSectionJson(const rules::RoundSection& section);
boost::json::object BringJson(const Book& book, const rules::Bring& bring);

std::string PlaceName(const Book& book, const rules::RoundPlace& place);
// Where the wheels may go if a start is answered with yes, the likeliest first; empty: they stay where they lie.
std::vector<const CaveRow*> PlacesFor(const Book& book, const rules::RoundQuestion& ask);
// In the first days of a part that is not the plan's first: from what its days are counted. "Day 2" alone would be
// taken for the cheese's age. None: later, or of the first part.
std::optional<rules::StartKind> SinceOf(const rules::Standing& standing);
// Where the line begins a part that asks for quite another warmth than the one of now: what it asks for.
std::optional<rules::Figure> WantsThen(const rules::RoundLine& line);
std::string RoundLotName(const Book& book, LotId lot);
// The plan's own words; where a care begins the part and the plan has none: "Pierced?"
std::string QuestionText(const Words& words, const rules::Question& question);
// How many of the line's lot lie on its shelf; more than the line has: a part of them, to be told by their numbers.
int LotHere(const Book& book, const rules::RoundLine& line);
// "now 2 times a week", "from tomorrow 2 times a week".
std::string CadenceNews(const Words& words, const rules::NewCadence& news);
double MinutesOf(double seconds);

}  // namespace rindwatch
