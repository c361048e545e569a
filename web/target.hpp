// What stands behind the method in a request line, taken apart.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace rindwatch::web {

struct Target {
  std::string path;                          // decoded: "/wheels/12"
  std::map<std::string, std::string> query;  // decoded, "+" is a space; the last of equal names wins
};

// Reads "/path?query" and "http://host/path?query". None if it is malformed or if its path climbs ("..") or hides a
// slash, a backslash or a control character behind an escape: no address of ours does, and what cannot be asked for
// needs no check further on.
std::optional<Target> ReadTarget(std::string_view target);

// The other way: escapes what must be.
std::string WriteTarget(const Target& target);

}  // namespace rindwatch::web
