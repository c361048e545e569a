#include "web/gate.hpp"

#include <arpa/inet.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "web/complaint.hpp"

namespace rindwatch::web {

namespace {

std::string Lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return out;
}

bool IsAddress(const std::string& host) {
  std::array<unsigned char, sizeof(in6_addr)> ignored{};
  if (host.size() > 2 && host.front() == '[' && host.back() == ']') {
    return inet_pton(AF_INET6, host.substr(1, host.size() - 2).c_str(), ignored.data()) == 1;
  }
  return inet_pton(AF_INET, host.c_str(), ignored.data()) == 1;
}

bool IsPort(std::string_view text) {
  return !text.empty() && text.size() <= 5 && text.find_first_not_of("0123456789") == std::string_view::npos;
}

// "name:80" and "[::1]:80" without the port, in lower case, without the dot that may end a full name; empty if it is
// not a host.
std::string HostOf(std::string_view value) {
  const std::size_t bracket = value.rfind(']');
  const std::size_t colon = value.find(':', bracket == std::string_view::npos ? 0 : bracket);
  if (colon != std::string_view::npos) {
    if (!IsPort(value.substr(colon + 1))) return {};
    value = value.substr(0, colon);
  }
  if (value.ends_with('.')) value.remove_suffix(1);
  return Lower(value);
}

// "http://host:80" as "host": the browser leaves out the port that the scheme implies, and so does its Host header.
std::string AuthorityOf(std::string_view origin) {
  const std::string lower = Lower(origin);
  std::string_view rest = lower;
  std::string_view implied;
  if (rest.starts_with("http://")) {
    rest.remove_prefix(7);
    implied = ":80";
  } else if (rest.starts_with("https://")) {
    rest.remove_prefix(8);
    implied = ":443";
  } else {
    return {};
  }
  if (rest.ends_with(implied)) rest.remove_suffix(implied.size());
  return std::string(rest);
}

bool IsJson(std::string_view content_type) {
  std::string type = Lower(content_type.substr(0, content_type.find(';')));
  type.erase(type.find_last_not_of(" \t") + 1);
  return type == "application/json";
}

bool IsLook(const Request& request) { return request.method == "GET" || request.method == "HEAD"; }

std::optional<Response> RefuseOrigin(const Request& request) {
  if (!request.headers.contains("origin")) return std::nullopt;
  const std::string_view host = request.Header("host");
  const std::string origin = AuthorityOf(request.Header("origin"));
  // A proxy may pass on the port that the scheme implies, a browser does not.
  const bool same = !origin.empty() && (origin == AuthorityOf("http://" + std::string(host)) ||
                                        origin == AuthorityOf("https://" + std::string(host)));
  if (same) return std::nullopt;
  return Complain(403, {"A page of another site tried to change something here.", std::string(host),
                        std::string(request.Header("origin")), "Make the change on Rindwatch's own page."});
}

Response NotJson(const Request& request) {
  return Complain(415, {"A change must come as JSON.", "Content-Type: application/json",
                        std::string(request.Header("content-type")), "Send the header and a JSON body."});
}

}  // namespace

Gate::Gate(Options options) : setting_(std::move(options.setting)) {
  for (const std::string& name : options.names) names_.push_back(HostOf(name));
}

bool Gate::Knows(std::string_view host) const {
  return host == "localhost" || std::find(names_.begin(), names_.end(), host) != names_.end();
}

std::optional<Response> Gate::RefuseHost(const Request& request) const {
  const std::string host = HostOf(request.Header("host"));
  if (!host.empty() && (IsAddress(host) || Knows(host))) return std::nullopt;
  return Complain(403, {"This name is not known as one of this machine's, so nothing is shown or changed under it.",
                        "an IP address, localhost or a listed name", std::string(request.Header("host")),
                        "Open the page by the machine's IP address, or add the name to " + setting_ + "."});
}

std::optional<Response> Gate::Refuse(const Request& request) const {
  const bool look = IsLook(request);
  if (look && request.path != "/api" && !request.path.starts_with("/api/")) return std::nullopt;
  if (auto refused = RefuseHost(request)) return refused;
  if (look) return std::nullopt;
  if (auto refused = RefuseOrigin(request)) return refused;
  if (!IsJson(request.Header("content-type"))) return NotJson(request);
  return std::nullopt;
}

std::vector<std::string> MachineNames() {
  std::vector<std::string> names{"localhost"};
  std::array<char, 256> buffer{};
  if (gethostname(buffer.data(), buffer.size() - 1) != 0 || buffer[0] == '\0') return names;
  const std::string full = Lower(buffer.data());
  const std::string first = full.substr(0, full.find('.'));
  for (const std::string& name : {full, first, first + ".local"}) {
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

}  // namespace rindwatch::web
