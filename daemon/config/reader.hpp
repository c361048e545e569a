// The reading of the TOML file: settings by section and name, faults with their line.
#pragma once

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "daemon/config/config.hpp"

namespace rindwatch {

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

  // The tables of [[section]], each with the settings `keys`; none if there are none.
  std::vector<const toml::table*> Tables(const std::string& section, std::initializer_list<const char*> keys) {
    lists_.insert(section);
    for (const char* key : keys) known_[section].insert(key);
    const toml::node* node = root_.get(section);
    if (!node) return {};
    if (!node->is_array_of_tables()) {
      throw ConfigError(fmt::format("{}, line {}: write [[{}]] in double brackets, one such part for each.", name_,
                                    node->source().begin.line, section));
    }
    std::vector<const toml::table*> tables;
    for (const toml::node& item : *node->as_array()) tables.push_back(item.as_table());
    return tables;
  }
  // A text of a table that Tables gave; a needed one must be there.
  void TakeText(const toml::table& table, const std::string& section, const std::string& key, std::string& into,
                const char* expected, bool needed = false) const {
    const toml::node* node = table.get(key);
    if (!node && !needed) return;
    const auto text = node ? node->value_exact<std::string>() : std::nullopt;
    if (!text || (needed && text->empty()))
      Fail(node ? *node : static_cast<const toml::node&>(table), section, key, expected);
    into = *text;
  }
  // The node of a setting that was written.
  const toml::node& At(const std::string& section, const std::string& key) const {
    const toml::node* node = root_[section][key].node();
    return node ? *node : (root_.get(section) ? *root_.get(section) : static_cast<const toml::node&>(root_));
  }

  [[noreturn]] void Fail(const toml::node& node, const std::string& section, const std::string& key,
                         const std::string& expected) const {
    std::ostringstream found;
    if (node.is_table())
      found << "nothing";
    else
      node.visit([&found](const auto& value) { found << value; });
    std::string one_line = found.str();
    std::ranges::replace_if(
        one_line, [](char c) { return c == '\n' || c == '\r'; }, ' ');
    throw ConfigError(fmt::format("{}, line {}: [{}] {} should be {}, found {}.", name_, node.source().begin.line,
                                  section, key, expected, one_line));
  }

  // A setting that is written but that nobody reads is most often a slip of the pen.
  std::vector<std::string> Unread() const {
    std::vector<std::string> warnings;
    for (const auto& [section, node] : root_) {
      const std::string name{section.str()};
      const auto known = known_.find(name);
      if (lists_.contains(name) && node.is_array_of_tables()) {
        for (const toml::node& item : *node.as_array()) AddUnread(name, *item.as_table(), warnings);
        continue;
      }
      if (known == known_.end() || !node.is_table()) {
        warnings.push_back(fmt::format("{}, line {}: nobody reads [{}]; the sections are {}.", name_,
                                       node.source().begin.line, name, Join(Sections())));
        continue;
      }
      AddUnread(name, *node.as_table(), warnings);
    }
    return warnings;
  }

 private:
  void AddUnread(const std::string& section, const toml::table& table, std::vector<std::string>& warnings) const {
    const std::set<std::string>& known = known_.at(section);
    for (const auto& [key, value] : table) {
      if (known.contains(std::string{key.str()})) continue;
      warnings.push_back(fmt::format("{}, line {}: nobody reads \"{}\" in [{}]; the settings there are {}.", name_,
                                     value.source().begin.line, key.str(), section, Join(known)));
    }
  }
  std::set<std::string> Sections() const {
    std::set<std::string> names;
    for (const auto& [section, keys] : known_) names.insert(section);
    return names;
  }
  static std::string Join(const std::set<std::string>& names) { return fmt::format("{}", fmt::join(names, ", ")); }

  const toml::table& root_;
  std::string name_;
  std::map<std::string, std::set<std::string>> known_;
  std::set<std::string> lists_;  // sections in double brackets
};

void ReadNoticesConfig(Reader& reader, NoticesConfig& config);

}  // namespace rindwatch
