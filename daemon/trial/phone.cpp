#include "daemon/trial/phone.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace rindwatch {

namespace json = boost::json;

json::object Phone::Act(const std::string& keeper, const char* kind, json::object body) {
  const std::int64_t now = ToMillis(Now());
  body["id"] = NewId();
  body["kind"] = kind;
  body["tapped_at"] = now;
  body["keeper"] = keeper;
  web::Request request;
  request.method = "POST";
  request.path = "/api/acts";
  request.headers = {{"content-type", "application/json"}, {"sent-at", std::to_string(now)}};
  request.body = json::serialize(body);
  const web::Response response = house_.Ask(router_, request);
  if (response.status != 200) throw std::logic_error(fmt::format("the tale's {} was refused: {}", kind, response.body));
  return json::parse(response.body).as_object();
}

json::object Phone::Get(const std::string& path) {
  web::Request request;
  request.method = "GET";
  request.path = path;
  return json::parse(house_.Ask(router_, request).body).as_object();
}

std::string Phone::NewId() { return fmt::format("{:016x}{:016x}", random_(), random_()); }

}  // namespace rindwatch
