// What every response wears, whoever made it: the headers that keep a browser honest, no caching unless the maker said
// so, and compression where it pays. One function that every response over a socket passes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "web/http.hpp"

namespace rindwatch::web {

// The content policy: everything from this server alone, nothing inline but the styles with these hashes
// ("sha256-..."), no frames, no forms, no plug-ins.
std::string ContentPolicy(const std::vector<std::string>& style_hashes = {});

// Headers that the maker set are kept; control characters in them become spaces.
void Dress(const Request& request, Response& response);

}  // namespace rindwatch::web
