#include "daemon/command/asking.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <random>
#include <stdexcept>

#include "daemon/book/fields.hpp"
#include "daemon/clock/clocks.hpp"
#include "daemon/command/config_places.hpp"
#include "daemon/house/house.hpp"
#include "daemon/serve/serve.hpp"
#include "web/ask.hpp"

namespace rindwatch {

namespace {

web::Response AskInProcess(const Config& config, const web::Request& request) {
  if (!std::filesystem::exists(config.database)) {
    throw std::runtime_error(
        fmt::format("There is no database at {}; \"rindwatch serve\" makes one, or name the right "
                    "configuration with --config.{}",
                    config.database, WhereLooked(config)));
  }
  const RealClock clock;
  House house(config, clock, Purpose::kServe);
  house.TheWatch().Look();
  web::Router router;
  const ApiContext context{config, house.TheWatch(), house.TheStore(), nullptr, nullptr, Words::English(), false,
                           false};
  AddApi(router, context, [] { return web::Server::Figures{}; });
  return house.Ask(router, request);
}

// The body of a good answer.
std::string BodyOf(const Config& config, const web::Request& request) {
  web::Response response;
  try {
    response = web::Ask(SocketOf(config), request);
  } catch (const web::AskFailed& failed) {
    if (!failed.Nobody()) throw;
    response = AskInProcess(config, request);
  }
  if (response.status == 200) return response.body;
  const boost::json::object object = boost::json::parse(response.body).as_object();
  const boost::json::object& error = object.at("error").as_object();
  const std::string todo = fields::TextOr(error, "do", "");
  throw std::runtime_error(std::string(error.at("what").as_string()) + (todo.empty() ? "" : " " + todo));
}

web::Request GetOf(const std::string& path, const Query& query) {
  web::Request request;
  request.method = "GET";
  request.path = path;
  request.query = query;
  return request;
}

web::Request PostOf(const std::string& path, const boost::json::object& body) {
  web::Request request;
  request.method = "POST";
  request.path = path;
  request.headers["content-type"] = "application/json";
  request.body = boost::json::serialize(body);
  return request;
}

// 128 random bits, as a phone makes them.
std::string NewActId() {
  std::random_device random;
  return fmt::format("{:08x}{:08x}{:08x}{:08x}", random(), random(), random(), random());
}

}  // namespace

boost::json::object AskDaemon(const Config& config, const std::string& path, const Query& query) {
  return boost::json::parse(BodyOf(config, GetOf(path, query))).as_object();
}

std::string AskDaemonText(const Config& config, const std::string& path, const Query& query) {
  return BodyOf(config, GetOf(path, query));
}

boost::json::object AskDaemonAbout(const Config& config, const std::string& path, const boost::json::object& asked) {
  return boost::json::parse(BodyOf(config, PostOf(path, asked))).as_object();
}

boost::json::object SendAct(const Config& config, boost::json::object act) {
  const auto now = rules::ToMillis(RealClock().Wall());
  act["id"] = NewActId();
  act["tapped_at"] = now;
  web::Request request = PostOf("/api/acts", act);
  request.headers["sent-at"] = std::to_string(now);
  return boost::json::parse(BodyOf(config, request)).as_object();
}

}  // namespace rindwatch
