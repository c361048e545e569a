// Who carries what was written: the way out of the house, as the queue sees it. All calls and answers in the loop's
// thread.
#pragma once

#include <chrono>
#include <functional>
#include <string>
#include <vector>

#include "daemon/config/notices.hpp"

namespace rindwatch {

// What became of a sending.
struct Outcome {
  enum class Kind {
    kSent,      // the other side took it
    kNotNow,    // it did not, and may take it later
    kNever,     // it never will: there is no such address
    kDoubtful,  // all of it was handed over, and no answer came: whether it was taken cannot be known
  };
  Kind kind = Kind::kNotNow;
  std::string what;  // one sentence in the keeper's words
};

struct Parcel {
  std::string lane;  // what goes by one lane goes one after the other; lanes do not wait for each other
  // Either a mail ...
  std::string to, message;
  // ... or a request.
  std::string url, body;  // without a body: GET
  std::vector<std::string> headers;
  std::string ca;
  std::chrono::seconds patience{30};  // for an answer, before it is handed over
};

class Carrier {
 public:
  virtual ~Carrier() = default;
  // `handing` comes when the other side is ready to take it and nothing of it has left yet; it goes out when `go` is
  // called, and not at all if `go` never is. `done` comes once.
  using Go = std::function<void()>;
  virtual void Send(Parcel parcel, std::function<void(Go go)> handing, std::function<void(Outcome)> done) = 0;
  // Gives up what is under way and what waits; nothing is told any more.
  virtual void Stop() = 0;
};

}  // namespace rindwatch
