#include "daemon/config/config.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <boost/asio/ip/address.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "sensors/topic_filter.hpp"

namespace rindwatch {

namespace {

// Reads the known settings of a file and remembers which ones were asked for.
class Reader {
 public:
  Reader(const toml::table& root, std::string name) : root_(root), name_(std::move(name)) {}

  template <typename T>
  void Take(const std::string& section, const std::string& key, T& into, const char* expected) {
    known_[section].insert(key);
    const toml::node_view node = root_[section][key];
    if (!node) return;
    const auto value = node.value_exact<T>();
    if (!value) Fail(*node.node(), section, key, expected);
    into = *value;
  }

  void TakeNumber(const std::string& section, const std::string& key, auto& into, std::int64_t low, std::int64_t high) {
    known_[section].insert(key);
    const toml::node_view node = root_[section][key];
    if (!node) return;
    const auto value = node.value_exact<std::int64_t>();
    if (!value || *value < low || *value > high) {
      Fail(*node.node(), section, key, fmt::format("a whole number from {} to {}", low, high));
    }
    into = static_cast<std::remove_cvref_t<decltype(into)>>(*value);
  }

  void TakeList(const std::string& section, const std::string& key, std::vector<std::string>& into) {
    known_[section].insert(key);
    const toml::node_view node = root_[section][key];
    if (!node) return;
    const toml::array* list = node.as_array();
    if (!list) Fail(*node.node(), section, key, "a list of texts such as [\"a\", \"b\"]");
    into.clear();
    for (const toml::node& item : *list) {
      const auto text = item.value_exact<std::string>();
      if (!text) Fail(item, section, key, "a list of texts such as [\"a\", \"b\"]");
      into.push_back(*text);
    }
  }

  [[noreturn]] void Fail(const toml::node& node, const std::string& section, const std::string& key,
                         const std::string& expected) const {
    std::ostringstream found;
    node.visit([&found](const auto& value) { found << value; });
    throw ConfigError(fmt::format("{}, line {}: [{}] {} should be {}, found {}.", name_, node.source().begin.line,
                                  section, key, expected, found.str()));
  }

  // A setting that is written but that nobody reads is most often a slip of the pen.
  std::vector<std::string> Unread() const {
    std::vector<std::string> warnings;
    for (const auto& [section, node] : root_) {
      const std::string name{section.str()};
      const auto known = known_.find(name);
      if (known == known_.end() || !node.is_table()) {
        warnings.push_back(fmt::format("{}, line {}: nobody reads [{}]; the sections are {}.", name_,
                                       node.source().begin.line, name, Join(Sections())));
        continue;
      }
      for (const auto& [key, value] : *node.as_table()) {
        if (known->second.contains(std::string{key.str()})) continue;
        warnings.push_back(fmt::format("{}, line {}: nobody reads \"{}\" in [{}]; the settings there are {}.", name_,
                                       value.source().begin.line, key.str(), name, Join(known->second)));
      }
    }
    return warnings;
  }

 private:
  std::set<std::string> Sections() const {
    std::set<std::string> names;
    for (const auto& [section, keys] : known_) names.insert(section);
    return names;
  }
  static std::string Join(const std::set<std::string>& names) { return fmt::format("{}", fmt::join(names, ", ")); }

  const toml::table& root_;
  std::string name_;
  std::map<std::string, std::set<std::string>> known_;
};

toml::table Parse(std::string_view text, const std::string& name) {
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    throw ConfigError(fmt::format("{}, line {}: this is not TOML: {}. Mend the line, or take it out.", name,
                                  error.source().begin.line, error.description()));
  }
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
  const std::filesystem::path folder = std::filesystem::path(name).parent_path();
  if (std::filesystem::path(config.database).is_relative()) config.database = (folder / config.database).string();
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
