// Who is this cookie? The server asks before it hands a request to a handler; the answer stands in Request::keeper.
#pragma once

#include <optional>
#include <string>

#include "web/http.hpp"

namespace rindwatch::web {

// Asked in the loop's thread; must not block.
class Visitor {
 public:
  virtual ~Visitor() = default;
  // The name of the keeper who signed in; none if nobody did.
  virtual std::optional<std::string> KeeperOf(const Request& request) const = 0;
};

// Where there is no sign-in, nobody is known.
class NobodyKnown final : public Visitor {
 public:
  std::optional<std::string> KeeperOf(const Request& request) const override;
};

}  // namespace rindwatch::web
