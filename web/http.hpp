// A request and a response, away from any socket. Handlers are functions from one to the other.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rindwatch::web {

struct Request {
  std::string method;                          // "GET", "POST"
  std::string path;                            // decoded, without the query: "/api/round"
  std::map<std::string, std::string> query;    // decoded; the last of equal names wins
  std::map<std::string, std::string> headers;  // names in lower case; equal names joined by ", "
  std::string body;
  std::string peer;                          // address of the other side, for the log; "local" over the Unix-domain
                                             // socket; empty in-process
  std::map<std::string, std::string> names;  // what the {name} parts of the route matched; filled by the router
  std::optional<std::string> keeper;         // who is signed in, filled by the server from its Visitor; none: unknown

  // The value of a header (name in lower case), of a query's name or of a route's name; empty if it is not there.
  std::string_view Header(std::string_view name) const;
  std::string_view Query(std::string_view name) const;
  std::string_view Name(std::string_view name) const;
};

struct Response {
  int status = 200;
  std::string content_type = "application/json";
  std::map<std::string, std::string> headers{};  // besides type and length
  std::string body{};
};

// Called once, later or at once, from the loop's thread.
using Answer = std::function<void(Response)>;
// Runs in the loop's thread and must not block; may answer later (a journal line is answered when it is on disk).
// The request lives until the handler returns: a handler that answers later copies what it needs.
using Handler = std::function<void(const Request&, Answer)>;

// A server-sent event. `id` lets a client resume: events after it are sent again.
struct Event {
  std::string id{};    // given by the hub
  std::string name{};  // "round", "cave", "alarm", "journal"
  std::string data{};  // one line of JSON
};

}  // namespace rindwatch::web
