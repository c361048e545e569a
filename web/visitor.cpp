#include "web/visitor.hpp"

namespace rindwatch::web {

std::optional<std::string> NobodyKnown::KeeperOf(const Request&) const { return std::nullopt; }

}  // namespace rindwatch::web
