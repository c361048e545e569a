// Small pieces of JSON that several answers share.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "daemon/book/book.hpp"
#include "rules/alarms/engine.hpp"
#include "rules/care/look_ahead.hpp"
#include "rules/care/schedule.hpp"
#include "web/http.hpp"

namespace rindwatch {

boost::json::array KindsJson(const std::vector<rules::CareKind>& kinds);
// {low, high, source}
boost::json::object SpanJson(const rules::Figure& figure);
// Sets `name` only where there is a value.
void SetSpan(boost::json::object& into, const char* name, const std::optional<rules::Figure>& figure);
void SetAt(boost::json::object& into, const char* name, const std::optional<rules::Instant>& at);
void SetNumber(boost::json::object& into, const char* name, const std::optional<double>& value);
boost::json::string DayJson(rules::Date day);

// "drying" ... or "gone".
std::string StateWord(const rules::Standing& standing);
// The same, or "released" of a wheel that was let go.
std::string StateWord(const Book& book, const WheelRow& wheel, const rules::Standing& standing);
// The name of a lot where lots show, else nothing.
std::string LotName(const Book& book, const WheelRow& wheel);
// The family in one word: what stands before the comma.
std::string ShortFamily(const rules::Plan& plan);
// The board's name, with its cave's before it where boards of two caves have that name; else the cave's.
std::string PlaceName(const Book& book, const CaveRow* cave, const std::string& shelf);
std::string PlaceName(const Book& book, const Place& place);

web::Response JsonResponse(const boost::json::value& value, int status = 200);

}  // namespace rindwatch
