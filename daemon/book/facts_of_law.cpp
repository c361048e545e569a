// The facts of acts on a wheel's qualifying age.
#include "daemon/book/fact_sheet.hpp"

namespace rindwatch {

void RuleFacts(FactSheet& sheet) { sheet.ForWheels("rule", {{"rule", OrNull(sheet.body, "rule")}}); }

void VouchFacts(FactSheet& sheet) {
  const boost::json::object& body = sheet.body;
  sheet.ForWheels(
      "vouch",
      {{"from", body.at("from")}, {"to", body.at("to")}, {"name", body.at("name")}, {"reason", body.at("reason")}});
}

void ReleaseFacts(FactSheet& sheet) { sheet.ForWheels("release", {{"override", OrNull(sheet.body, "override")}}); }

}  // namespace rindwatch
