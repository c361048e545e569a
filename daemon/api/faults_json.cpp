#include "daemon/api/ahead_views.hpp"
#include "daemon/api/json.hpp"
#include "rules/faults/faults.hpp"

namespace rindwatch {

namespace json = boost::json;
using rules::FaultAdvice;

namespace {

std::string KeyOf(const FaultAdvice& advice, const std::string& end) {
  return "fault." + std::string(advice.words) + "." + end;
}

json::array OrdersJson(const Words& words, const FaultAdvice& advice) {
  json::array orders;
  for (int number = 1; number <= rules::kFaultOrders; ++number) {
    const std::string key = KeyOf(advice, "now." + std::to_string(number));
    json::object order{{"order", words.Say(key)}};
    if (words.Has(key + ".more")) order["more"] = words.Say(key + ".more");
    orders.push_back(std::move(order));
  }
  return orders;
}

// Cares of one day are one entry.
json::array ThenJson(const Words& words, const FaultAdvice& advice) {
  json::array then;
  for (auto care = advice.then.begin(); care != advice.then.end();) {
    const int in_days = care->in_days;
    std::vector<rules::CareKind> kinds, instead_of;
    for (; care != advice.then.end() && care->in_days == in_days; ++care) {
      kinds.push_back(care->kind);
      if (care->instead_of) instead_of.push_back(*care->instead_of);
    }
    json::object entry{{"in_days", in_days},
                       {"kinds", KindsJson(kinds)},
                       {"words", words.Say(KeyOf(advice, "then." + std::to_string(then.size() + 1)))}};
    if (!instead_of.empty()) entry["instead_of"] = KindsJson(instead_of);
    then.push_back(std::move(entry));
  }
  return then;
}

json::object AdviceJson(const Words& words, const FaultAdvice& advice, rules::RindClass rind) {
  json::object ages{{"from", advice.from_age}};
  if (advice.to_age) ages["to"] = *advice.to_age;
  return {{"rind", rules::ToText(rind)},
          {"ages", std::move(ages)},
          {"mask", advice.mask},
          {"sisters", advice.sisters},
          {"neighbours", advice.neighbours},
          {"known", words.Say(KeyOf(advice, "known"))},
          {"caution", words.Say(KeyOf(advice, "caution"))},
          {"now", OrdersJson(words, advice)},
          {"then", ThenJson(words, advice)},
          {"look_again_days", advice.look_again_days},
          {"apart", advice.apart},
          {"hold", advice.hold}};
}

}  // namespace

json::object FaultsJson(const ApiContext& context) {
  json::array faults;
  for (int n = 0; n <= static_cast<int>(rules::kLastFaultKind); ++n) {
    const auto fault = static_cast<rules::FaultKind>(n);
    json::array rinds;
    for (const FaultAdvice& advice : rules::FaultCatalogue()) {
      if (advice.fault != fault) continue;
      for (const rules::RindClass rind : advice.rinds) rinds.push_back(AdviceJson(context.words, advice, rind));
    }
    faults.push_back({{"what", rules::ToText(fault)}, {"rinds", std::move(rinds)}});
  }
  return {{"head", HeadJson(context)}, {"faults", std::move(faults)}};
}

}  // namespace rindwatch
