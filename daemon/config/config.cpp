#include "daemon/config/config.hpp"

#include <fmt/format.h>

#include <boost/asio/ip/address.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "daemon/config/reader.hpp"
#include "sensors/topic_filter.hpp"

namespace rindwatch {

namespace {

toml::table Parse(std::string_view text, const std::string& name) {
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    throw ConfigError(fmt::format("{}, line {}: this is not TOML: {}. Mend the line, or take it out.", name,
                                  error.source().begin.line, error.description()));
  }
}

void PutBelow(const std::filesystem::path& folder, std::string& file) {
  if (!file.empty() && std::filesystem::path(file).is_relative()) file = (folder / file).string();
}

}  // namespace

ConfigReading ReadConfig(std::string_view text, const std::string& name) {
  const toml::table root = Parse(text, name);
  Reader reader(root, name);
  Config config;
  config.source = name;
  reader.Take("listen", "address", config.listen_address, "an address in quotes such as \"127.0.0.1\" or \"0.0.0.0\"");
  reader.TakeNumber("listen", "port", config.listen_port, 1, 65535);
  reader.TakeList("listen", "names", config.listen_names);
  config.broker_given = root.contains("broker");
  reader.Take("broker", "host", config.broker_host, "a name or address in quotes");
  reader.TakeNumber("broker", "port", config.broker_port, 1, 65535);
  reader.Take("broker", "user", config.broker_user, "a text in quotes");
  reader.Take("broker", "password", config.broker_password, "a text in quotes");
  reader.Take("broker", "client", config.broker_client, "a text in quotes");
  reader.Take("broker", "prefix", config.broker_prefix, "a text in quotes");
  reader.Take("broker", "discover", config.broker_discover, "a topic filter in quotes such as \"#\"");
  reader.Take("database", "path", config.database, "a path in quotes");
  reader.TakeNumber("database", "sync_seconds", config.sync_seconds, 1, 3600);
  reader.Take("home", "zone", config.zone, "a zone in quotes such as \"Europe/Vienna\"");
  reader.TakeNumber("home", "day_turn", config.day_turn, 0, 5);
  reader.Take("log", "level", config.log_level, "one of \"debug\", \"info\", \"warn\", \"error\"");
  static const std::set<std::string> levels = {"debug", "info", "warn", "error"};
  if (!levels.contains(config.log_level)) {
    reader.Fail(*root["log"]["level"].node(), "log", "level", "one of \"debug\", \"info\", \"warn\", \"error\"");
  }
  boost::system::error_code no_address;
  boost::asio::ip::make_address(config.listen_address, no_address);
  if (no_address) {
    reader.Fail(*root["listen"]["address"].node(), "listen", "address",
                "an address in quotes such as \"127.0.0.1\" or \"0.0.0.0\"");
  }
  if (sensors::TopicFault(config.broker_prefix)) {
    reader.Fail(*root["broker"]["prefix"].node(), "broker", "prefix",
                "a topic without wildcards such as \"rindwatch\"");
  }
  if (!config.broker_discover.empty() && sensors::FilterFault(config.broker_discover)) {
    reader.Fail(*root["broker"]["discover"].node(), "broker", "discover",
                "a topic filter in quotes such as \"#\", or \"\" for none");
  }
  ReadNoticesConfig(reader, config.notices);
  const std::filesystem::path folder = std::filesystem::path(name).parent_path();
  if (std::filesystem::path(config.database).is_relative()) config.database = (folder / config.database).string();
  for (std::string* file : {&config.notices.mail.ca, &config.notices.ping.ca}) PutBelow(folder, *file);
  for (Webhook& webhook : config.notices.webhooks) PutBelow(folder, webhook.ca);
  return {std::move(config), reader.Unread()};
}

ConfigReading ReadConfigFile(const std::string& path) {
  std::ifstream file(path);
  std::error_code ignored;
  // A folder opens like a file and then reads like an empty one.
  if (!file || std::filesystem::is_directory(path, ignored)) {
    throw ConfigError(fmt::format(
        "{}: the configuration cannot be read; is it a file that exists, and may this user read it?", path));
  }
  std::ostringstream text;
  text << file.rdbuf();
  return ReadConfig(text.str(), path);
}

}  // namespace rindwatch
