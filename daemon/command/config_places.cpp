#include "daemon/command/config_places.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdlib>
#include <filesystem>

namespace rindwatch {

namespace {

constexpr const char* kVariable = "RINDWATCH_CONFIG";
// The second is the one that deploy/rindwatch.service reads.
constexpr std::array kUsual{"./rindwatch.toml", "/etc/rindwatch/rindwatch.toml"};

}  // namespace

std::string ConfigPlaces() { return fmt::format("${}, {}, {}", kVariable, kUsual[0], kUsual[1]); }

std::string ConfigPath(const std::string& named) {
  if (!named.empty()) return named;
  // NOLINTNEXTLINE(concurrency-mt-unsafe): before any thread begins.
  if (const char* variable = std::getenv(kVariable)) return variable;
  for (const char* usual : kUsual) {
    if (std::filesystem::exists(usual)) return std::filesystem::path(usual).lexically_normal().string();
  }
  return {};
}

std::string WhereLooked(const Config& config) {
  return config.source.empty() ? fmt::format(" No configuration was found; looked at {}.", ConfigPlaces()) : "";
}

}  // namespace rindwatch
