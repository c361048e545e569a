#include "daemon/version.hpp"
namespace rindwatch {
const char* Version() { return RINDWATCH_VERSION; }
}  // namespace rindwatch
