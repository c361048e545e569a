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
  std::map<std::string, std::string> headers;  // names in lower case
  std::string body;
  std::string peer;                            // address of the other side, for the log; empty in-process
};

struct Response {
  int status = 200;
  std::string content_type = "application/json";
  std::map<std::string, std::string> headers;  // besides type and length
  std::string body;
};

// Called once, later or at once, from the loop's thread.
using Answer = std::function<void(Response)>;
// Runs in the loop's thread and must not block; may answer later (a journal line is answered when it is on disk).
using Handler = std::function<void(const Request&, Answer)>;

// A server-sent event. `id` lets a client resume: events after it are sent again.
struct Event {
  std::string id;
  std::string name;  // "round", "cave", "alarm", "journal"
  std::string data;  // one line of JSON
};

}  // namespace rindwatch::web
