// Reading the fields of a JSON object in the keeper's words: what was expected, what was found.
#pragma once

#include <boost/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/care/history.hpp"
#include "rules/time.hpp"

namespace rindwatch {

// Why an act was not taken. Becomes the `error` of the answer.
struct ActFault {
  std::string what;   // one sentence
  std::string field;  // "made"
  std::string expected;
  std::string found;
  std::string todo;
};

// Each throws ActFault. `optional` variants take a missing or null field for none.
namespace fields {

std::string Text(const boost::json::object& object, const char* name);
std::string LongText(const boost::json::object& object, const char* name, std::size_t most_bytes);
// Whatever text is there; empty if there is none. Throws nothing.
std::string AnyText(const boost::json::object& object, const char* name);
std::string TextOr(const boost::json::object& object, const char* name, const char* otherwise);
std::int64_t Whole(const boost::json::object& object, const char* name);
std::optional<std::int64_t> MaybeWhole(const boost::json::object& object, const char* name);
double Number(const boost::json::object& object, const char* name);
bool Truth(const boost::json::object& object, const char* name);
bool TruthOr(const boost::json::object& object, const char* name, bool otherwise);
std::optional<double> MaybeNumber(const boost::json::object& object, const char* name);
rules::Instant At(const boost::json::object& object, const char* name);
std::optional<rules::Instant> MaybeAt(const boost::json::object& object, const char* name);
rules::Date Day(const boost::json::object& object, const char* name);
std::optional<rules::Date> MaybeDay(const boost::json::object& object, const char* name);
// Whole numbers from 1 on, in their order, each once.
std::vector<std::int64_t> Numbers(const boost::json::object& object, const char* name);
std::vector<std::int64_t> NumbersOr(const boost::json::object& object, const char* name);  // empty if missing
std::vector<std::string> Texts(const boost::json::object& object, const char* name);       // likewise, none empty
std::vector<rules::WheelId> Wheels(const boost::json::object& object, const char* name);
std::vector<rules::CareKind> Kinds(const boost::json::object& object, const char* name);
const boost::json::object& Object(const boost::json::object& object, const char* name);
const boost::json::object* MaybeObject(const boost::json::object& object, const char* name);
const boost::json::array& Array(const boost::json::object& object, const char* name);

}  // namespace fields

// "2026-11-25"; none if it is no date of the calendar.
std::optional<rules::Date> DayFrom(std::string_view text);
// 32 lower-case hexadecimal digits.
bool IsActId(std::string_view text);

}  // namespace rindwatch
