// The page that was built into the program. Link target rindwatch-page (it runs npm unless a finished page was given).
#pragma once

#include <vector>

#include "web/assets.hpp"

namespace rindwatch::web {

// Empty if the program was built without a page.
const std::vector<AssetFile>& EmbeddedPage();

}  // namespace rindwatch::web
