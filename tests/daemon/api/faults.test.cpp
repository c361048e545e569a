// What the house tells of faults: every entry of the catalogue has its words.
#include "rules/faults/faults.hpp"

#include "tests/catch.hpp"
#include "tests/daemon/house/household.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using namespace testing;

TEST_CASE("every advice of the catalogue has its words: known, caution, three orders, one for each day that follows") {
  const Words& words = Words::English();
  for (const rules::FaultAdvice& advice : rules::FaultCatalogue()) {
    const std::string key = "fault." + std::string(advice.words);
    std::vector<std::string> ends{".known", ".caution", ".now.1", ".now.2", ".now.3"};
    int days = 0, last = 0;
    for (const rules::FaultCare& care : advice.then) {
      if (care.in_days != last) ends.push_back(".then." + std::to_string(++days));
      last = care.in_days;
    }
    for (const std::string& end : ends) {
      if (!words.Has(key + end)) FAIL_CHECK("web/words/en.json has no text for \"" << key << end << "\"");
    }
    // A word too many would stand beside no care.
    CHECK_FALSE(words.Has(key + ".then." + std::to_string(days + 1)));
    if (advice.mask) CHECK(words.Say(key + ".caution").find("FFP2") != std::string::npos);
    if (advice.hold) CHECK(words.Say(key + ".caution").find("Hold it") != std::string::npos);
  }
}

TEST_CASE("the house tells every fault for every rind, mite dust with its mask and its two cares of one day") {
  TempFolder folder;
  Household house(folder / "rind.db", kThursday);
  house.Begin();
  const json::object answer = house.See("/api/faults");
  const json::array& faults = answer.at("faults").as_array();
  REQUIRE(faults.size() == 9);
  for (const json::value& fault : faults) CHECK(fault.at("rinds").as_array().size() >= 4);
  const json::object& dust = faults[4].as_object();
  REQUIRE(dust.at("what").as_string() == "mite dust");
  const json::object& old = dust.at("rinds").as_array().front().as_object();
  CHECK(old.at("rind").as_string() == "natural and pressed");
  CHECK(old.at("ages").at("from").to_number<int>() == 60);
  CHECK(old.at("caution").as_string() == "Mask (FFP2). No dry sweeping.");
  CHECK(old.at("now").at(0).at("order").as_string() == "Take them outside.");
  CHECK(old.at("now").at(0).at("more").as_string() == "Not past the young wheels.");
  REQUIRE(old.at("then").as_array().size() == 1);
  CHECK(json::serialize(old.at("then").at(0).at("kinds")) == R"(["brush","oil"])");
  CHECK(json::serialize(old.at("then").at(0).at("instead_of")) == R"(["brush"])");
  CHECK(old.at("apart").as_bool());
}

}  // namespace
}  // namespace rindwatch
