// Apart from the engine, so that a new number builds little anew.
#pragma once

namespace rindwatch::rules {

// Changes whenever the same inputs would give other decisions or the state's text another form.
inline constexpr int kRulesVersion = 30;

}  // namespace rindwatch::rules
