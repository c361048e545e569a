#include "daemon/clock/zones.hpp"

#include <date/tz.h>

namespace rindwatch {

namespace {
constexpr auto kFirst = date::sys_days{date::year{1990} / 1 / 1};
constexpr auto kLast = date::sys_days{date::year{2100} / 1 / 1};
}  // namespace

rules::Zone LoadZone(const std::string& name) {
  const date::time_zone* zone = nullptr;
  try {
    zone = date::locate_zone(name);
  } catch (const std::exception&) {
    throw std::runtime_error("The zone \"" + name +
                             "\" is not in this machine's zone database; write a name such as Europe/Vienna, and "
                             "install the package tzdata if it is missing.");
  }
  date::sys_info info = zone->get_info(date::sys_seconds{kFirst});
  const auto offset = info.offset;
  std::vector<rules::Zone::Transition> transitions;
  while (info.end < date::sys_seconds{kLast}) {
    const auto from = info.end;
    info = zone->get_info(from);
    // An abbreviation may change without the offset; that is no transition of a clock on the wall.
    const auto before = transitions.empty() ? offset : transitions.back().offset;
    if (info.offset != before) transitions.push_back({rules::Instant{from.time_since_epoch()}, info.offset});
  }
  return rules::Zone(name, offset, std::move(transitions));
}

std::string MachineZoneName() {
  try {
    const date::time_zone* zone = date::current_zone();
    return zone->name();
  } catch (const std::exception&) {
    return "UTC";
  }
}

}  // namespace rindwatch
