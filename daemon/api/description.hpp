// The description of the HTTP API, as the program carries it in itself.
#pragma once

#include <string_view>

namespace rindwatch {

// web/openapi.yaml as it was when this program was built; served at /openapi.yaml. Lives as long as the program.
std::string_view ApiDescription();

}  // namespace rindwatch
