#include "web/http.hpp"

namespace rindwatch::web {

namespace {

std::string_view Find(const std::map<std::string, std::string>& map, std::string_view key) {
  const auto found = map.find(std::string(key));
  return found == map.end() ? std::string_view{} : std::string_view{found->second};
}

}  // namespace

std::string_view Request::Header(std::string_view name) const { return Find(headers, name); }
std::string_view Request::Query(std::string_view name) const { return Find(query, name); }
std::string_view Request::Name(std::string_view name) const { return Find(names, name); }

}  // namespace rindwatch::web
