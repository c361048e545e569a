// Which Rindwatch this is.
#pragma once

namespace rindwatch {

// "0.1.0"
const char* Version();

}  // namespace rindwatch
