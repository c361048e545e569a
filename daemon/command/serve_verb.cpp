#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/spdlog.h>

#include "daemon/clock/clocks.hpp"
#include "daemon/command/verbs.hpp"
#include "daemon/house/house.hpp"
#include "daemon/house/set_back.hpp"
#include "daemon/serve/serve.hpp"
#include "daemon/trial/address.hpp"
#include "daemon/version.hpp"

namespace rindwatch {

void SetUpLog(const std::string& level) {
  auto log = spdlog::stderr_color_mt("rindwatch");
  log->set_pattern("%Y-%m-%d %H:%M:%S %^%l%$ %v");
  spdlog::set_default_logger(std::move(log));
  spdlog::set_level(spdlog::level::from_str(level));
}

namespace {

Ended KeepWatch(const ConfigReading& reading, const rules::Clock& clock, bool was_ahead) {
  House house(reading.config, clock, Purpose::kServe);
  ServeOptions options;
  std::optional<rules::Instant> ahead_until;
  if (was_ahead || IsSetByNetwork()) ahead_until = SetBackIfAhead(house.TheStore(), clock.Wall());
  options.known = house.TheStore().ReadLastKnown();
  options.ready = [&](std::uint16_t port) {
    const std::string address = AddressForPhones(reading.config.listen_address);
    spdlog::info("Rindwatch {} keeps watch; the page is at {}", Version(), PageAddress(address, port));
    if (!IsThisMachineAlone(reading.config.listen_address)) {
      spdlog::warn("Anyone on this network can read and write on the page until there is sign-in.");
    }
  };
  options.begin = [&house, ahead_until] { house.TheWatch().Begin(ahead_until); };
  return Serve(house, reading.config, options);
}

}  // namespace

void RunServe(const ConfigReading& reading) {
  SetUpLog(reading.config.log_level);
  for (const std::string& warning : reading.warnings) spdlog::warn("{}", warning);
  const RealClock clock;
  for (bool was_ahead = false; KeepWatch(reading, clock, was_ahead) == Ended::kWasAhead;) was_ahead = true;
}

}  // namespace rindwatch
