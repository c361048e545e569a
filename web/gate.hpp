// Keeps other people's web pages from writing here through the keeper's own browser. A page of a strange site can make
// the browser send a form or a fetch to an address of the cellar's network, or let its own name point there (DNS
// rebinding); what it cannot do is choose the Host and Origin headers. A value; any thread.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "web/http.hpp"

namespace rindwatch::web {

class Gate {
 public:
  struct Options {
    // Names under which the server is reached, without a port. IP addresses and localhost are always right: neither can
    // be made to point elsewhere.
    std::vector<std::string> names;
    // Where a keeper adds a name, for the sentence that refuses one.
    std::string setting = "the configuration's list of host names";
  };

  explicit Gate(Options options);

  // None: let it pass. Otherwise the answer: 403 (a Host that is not ours, an Origin that is not the Host), 415 (a
  // change that does not come as application/json).
  //  - a change (anything but GET and HEAD): Host, Origin if there is one, Content-Type;
  //  - a look at /api/: Host, so that a rebound name cannot read either;
  //  - all else (the page, /health, /metrics): nothing.
  std::optional<Response> Refuse(const Request& request) const;

 private:
  bool Knows(std::string_view host) const;
  std::optional<Response> RefuseHost(const Request& request) const;

  std::vector<std::string> names_;  // in lower case
  std::string setting_;
};

// What this machine calls itself: "localhost", its host name, and that name under .local.
std::vector<std::string> MachineNames();

}  // namespace rindwatch::web
