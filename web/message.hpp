// Between the network library's messages and our own.
#pragma once

#include <cctype>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "web/http.hpp"
#include "web/net.hpp"
#include "web/target.hpp"

namespace rindwatch::web {

inline std::string ToText(beast::string_view view) { return {view.data(), view.size()}; }

inline std::string ToLower(beast::string_view view) {
  std::string out = ToText(view);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

template <class Fields>
std::map<std::string, std::string> ToHeaders(const Fields& fields) {
  std::map<std::string, std::string> headers;
  for (const auto& field : fields) {
    std::string& value = headers[ToLower(field.name_string())];
    value += (value.empty() ? "" : ", ") + ToText(field.value());
  }
  return headers;
}

// None if the target cannot be read, or if the Host header is missing or there twice (RFC 9112 section 3.2).
inline std::optional<Request> ToRequest(http::request<http::string_body>&& message, std::string peer) {
  auto target = ReadTarget(ToText(message.target()));
  const auto hosts = message.count(http::field::host);
  if (!target || hosts > 1 || (hosts == 0 && message.version() >= 11)) return std::nullopt;
  Request request;
  request.method = ToText(message.method_string());
  request.path = std::move(target->path);
  request.query = std::move(target->query);
  request.headers = ToHeaders(message);
  request.body = std::move(message.body());
  request.peer = std::move(peer);
  return request;
}

// Whether an answer with this status has a body at all (RFC 9110 section 6.4.1).
inline bool HasBody(int status) { return status >= 200 && status != 204 && status != 304; }

// The head of an answer; the length is that of the body, sent or (after a HEAD) not.
template <class Body>
http::response<Body> ToMessage(const Response& response, unsigned version, bool keep_alive) {
  http::response<Body> message;
  message.version(version);
  message.result(static_cast<unsigned>(response.status));
  if (HasBody(response.status)) message.set(http::field::content_type, response.content_type);
  for (const auto& [name, value] : response.headers) message.set(name, value);
  message.keep_alive(keep_alive);
  if (HasBody(response.status)) message.content_length(response.body.size());
  return message;
}

}  // namespace rindwatch::web
