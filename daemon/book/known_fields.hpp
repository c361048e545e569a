// Which fields an act of each kind may have. A slip of a name is said, never swallowed: "min_temperature" for
// "min_celsius" would else be a rule without a temperature.
#pragma once

#include <boost/json.hpp>
#include <initializer_list>
#include <string>
#include <string_view>

namespace rindwatch {

// Throws ActFault for a field that acts of the kind do not have. A kind that is not known has no list.
void CheckFieldsOfAct(const boost::json::object& body, std::string_view kind);
// Likewise for an object inside an act; `names` parted by blanks, `what` as the keeper would call it.
void CheckFields(const boost::json::object& object, std::string_view names, const std::string& what);

}  // namespace rindwatch
