#include "daemon/command/check.hpp"

#include <fmt/format.h>

#include <boost/json.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "daemon/book/facts.hpp"
#include "daemon/command/config_places.hpp"
#include "daemon/house/house.hpp"
#include "rules/plans/plan.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

json::array Strings(const std::vector<std::string>& texts) {
  json::array array;
  for (const std::string& text : texts) array.push_back(json::string(text));
  return array;
}

}  // namespace

bool RunCheck(const ConfigReading& reading, bool as_json) {
  const Config& config = reading.config;
  HomeOf(config);  // a zone that nobody knows is found here
  const bool there = std::filesystem::exists(config.database);
  const CheckReport report = there ? CheckDatabase(config.database, FactsOf) : CheckReport{};
  if (as_json) {
    fmt::print("{}\n", json::serialize(json::object{{"configuration", config.source},
                                                    {"warnings", Strings(reading.warnings)},
                                                    {"database", config.database},
                                                    {"exists", there},
                                                    {"readings", report.readings},
                                                    {"lines", report.lines},
                                                    {"facts", report.facts},
                                                    {"faults", Strings(report.faults)}}));
    return report.faults.empty();
  }
  fmt::print("Configuration: {}\n",
             config.source.empty() ? "none, all settings as they come." + WhereLooked(config) : config.source);
  for (const std::string& warning : reading.warnings) fmt::print("{}\n", warning);
  if (!there) {
    fmt::print("Database: none yet at {}.\n", config.database);
    return true;
  }
  fmt::print("Database: {}, {} readings, {} lines of the journal, {} facts.\n", config.database, report.readings,
             report.lines, report.facts);
  for (const std::string& fault : report.faults) fmt::print("{}\n", fault);
  if (report.faults.empty()) fmt::print("The summing tables agree with the journal.\n");
  return report.faults.empty();
}

bool CheckPlanFile(const std::string& path, bool as_json) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error(fmt::format("{}: the plan cannot be read; does the file exist?", path));
  std::ostringstream text;
  text << file.rdbuf();
  const rules::PlanReading read = rules::ReadPlan(text.str(), path);
  std::vector<std::string> faults;
  faults.reserve(read.faults.size());
  for (const rules::PlanFault& fault : read.faults) faults.push_back(rules::ToText(fault, path));
  if (as_json) {
    fmt::print("{}\n", json::serialize(json::object{{"plan", path}, {"faults", Strings(faults)}}));
    return faults.empty();
  }
  for (const std::string& fault : faults) fmt::print("{}\n", fault);
  if (read.plan) fmt::print("{}: {}, version {}, is sound.\n", path, read.plan->family, read.plan->version);
  return faults.empty();
}

}  // namespace rindwatch
