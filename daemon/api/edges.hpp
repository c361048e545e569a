// What the air of both edges says of a time in which nothing spoke. The loop's thread.
#pragma once

#include <optional>
#include <string>

#include "daemon/api/context.hpp"

namespace rindwatch {

// How the air was when it was heard again, in degrees Celsius; none: it was not, or nobody knows.
std::optional<double> AirAfter(const rules::Alarm& alarm);
// "Air 12.4 °C before, 15.1 °C after. The smallest wheel was at most about 12.9 °C."; while it is not heard yet
// "Air 12.4 °C before.". Empty: of another kind, or nothing is known.
std::string EdgesWords(const Words& words, const rules::Alarm& alarm);
// "It warmed to 15.1 °C.": the news of a time that nobody watched. Empty: of another kind, it is not known yet, or the
// air stayed as it was.
std::string EdgesNews(const Words& words, const rules::Alarm& alarm);
// What that means, no more than is proven: "It warmed, and kept its band." Empty: it is no silence or power cut that is
// over, or the edges tell nothing: air that was out of its band before may have been warm already, as after another
// cut.
std::string EdgesSay(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
