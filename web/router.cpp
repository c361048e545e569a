#include "web/router.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>

#include "web/complaint.hpp"

namespace rindwatch::web {

namespace {

// "/a/b" -> a, b; "/" -> nothing; "/a/" -> a and an empty part, which no pattern has.
std::vector<std::string> Split(std::string_view path) {
  std::vector<std::string> parts;
  if (path == "/") return parts;
  while (!path.empty()) {
    path.remove_prefix(1);
    const std::size_t end = std::min(path.find('/'), path.size());
    parts.emplace_back(path.substr(0, end));
    path.remove_prefix(end);
  }
  return parts;
}

bool IsName(const std::string& part) { return part.size() > 2 && part.front() == '{' && part.back() == '}'; }

bool Fits(const std::vector<std::string>& pattern, const std::vector<std::string>& parts) {
  return std::equal(pattern.begin(), pattern.end(), parts.begin(), parts.end(),
                    [](const std::string& a, const std::string& b) { return IsName(a) ? !b.empty() : a == b; });
}

// Plain parts before names, from the left.
bool IsPlainer(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end(),
                                      [](const auto& x, const auto& y) { return !IsName(x) && IsName(y); });
}

// Same places in the same order, whatever the names.
bool IsSamePlace(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const auto& x, const auto& y) { return IsName(x) ? IsName(y) : x == y; });
}

bool IsApi(const std::string& path) { return path == "/api" || path.starts_with("/api/"); }

bool IsLook(const std::string& method) { return method == "GET" || method == "HEAD"; }

Response NothingHere(const Request& request) {
  return Complain(404, {"Nothing is at this address.", "an address of this program", request.path,
                        "Check the address; the page begins at /."});
}

Response OtherMethod(const Request& request, const std::string& allowed) {
  Response response = Complain(
      405, {"This address does not take this method.", allowed, request.method, "Use one of: " + allowed + "."});
  response.headers["Allow"] = allowed;
  return response;
}

}  // namespace

void Router::Add(std::string method, const std::string& pattern, Handler handler) {
  if (!pattern.starts_with('/')) throw std::logic_error("route \"" + pattern + "\" does not begin with a slash");
  std::vector<std::string> parts = Split(pattern);
  for (const Route& route : routes_) {
    if (route.method == method && IsSamePlace(route.parts, parts)) {
      throw std::logic_error(std::string("route ").append(method).append(" ").append(pattern) + " was added before");
    }
  }
  routes_.push_back({std::move(method), std::move(parts), std::move(handler)});
}

const Router::Route* Router::Find(const std::string& method, const std::vector<std::string>& parts) const {
  const Route* best = nullptr;
  for (const Route& route : routes_) {
    if (route.method != method || !Fits(route.parts, parts)) continue;
    if (best == nullptr || IsPlainer(route.parts, best->parts)) best = &route;
  }
  if (best == nullptr && method == "HEAD") return Find("GET", parts);
  return best;
}

std::string Router::Allowed(const std::vector<std::string>& parts) const {
  std::set<std::string> methods;
  for (const Route& route : routes_) {
    if (Fits(route.parts, parts)) methods.insert(route.method);
  }
  if (methods.contains("GET")) methods.insert("HEAD");
  std::string list;
  for (const std::string& method : methods) list += (list.empty() ? "" : ", ") + method;
  return list;
}

void Router::Handle(Request request, const Answer& answer) const {
  const std::vector<std::string> parts = Split(request.path);
  if (const Route* route = Find(request.method, parts)) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const std::string& part = route->parts[i];
      if (IsName(part)) request.names[part.substr(1, part.size() - 2)] = parts[i];
    }
    return route->handler(request, answer);
  }
  const std::string allowed = Allowed(parts);
  if (!allowed.empty()) return answer(OtherMethod(request, allowed));
  if (otherwise_ && IsLook(request.method) && !IsApi(request.path)) return otherwise_(request, answer);
  answer(NothingHere(request));
}

Handler Router::AsHandler() const {
  return [this](const Request& request, const Answer& answer) { Handle(request, answer); };
}

}  // namespace rindwatch::web
