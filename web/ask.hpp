// Asks a running daemon over its Unix-domain socket and waits for the answer: for the command line. Any thread.
#pragma once

#include <chrono>
#include <stdexcept>
#include <string>

#include "web/http.hpp"

namespace rindwatch::web {

// A sentence for the keeper: nobody answers, the answer is late or broken.
class AskFailed : public std::runtime_error {
 public:
  AskFailed(const std::string& what, bool nobody) : std::runtime_error(what), nobody_(nobody) {}
  // True if no daemon listens there at all: the request was not sent and nothing happened.
  bool Nobody() const { return nobody_; }

 private:
  bool nobody_;
};

// Sends method, path, query, headers and body of the request; a body without a Content-Type goes as application/json.
// Returns whatever status came. Throws AskFailed. An answer may hold 64 MiB, since exports travel this way.
Response Ask(const std::string& socket_path, const Request& request,
             std::chrono::milliseconds timeout = std::chrono::seconds{30});

}  // namespace rindwatch::web
