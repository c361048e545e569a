// The finished page: files in memory, each with a compressed twin, answered with what a browser's cache needs.
// Built once at the start; any thread afterwards.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "web/http.hpp"

namespace rindwatch::web {

// One file. The bytes belong to somebody else (the program itself) and outlive the Assets.
struct AssetFile {
  std::string_view path;  // from the page's folder, with a slash first: "/app.js"
  std::string_view bytes;
  std::string_view gzip;  // the same compressed; empty if that saves nothing
  std::string_view hash;  // of the content, hexadecimal; changes whenever the content does
};

class Assets {
 public:
  explicit Assets(const std::vector<AssetFile>& files);

  // 200 or 304 for a file; for "/" and for any path without an extension (/round, /wheels/12) index.html, since the
  // page itself knows its addresses; 404 for the rest. Only GET and HEAD come here.
  Response Find(const Request& request) const;
  // The same as a handler for Router::Otherwise. The Assets must outlive it.
  Handler AsHandler() const;

 private:
  Response Send(const AssetFile& file, const Request& request) const;

  std::map<std::string, AssetFile, std::less<>> files_;
  std::string index_policy_;  // the content policy of index.html, which allows its own inline style by hash
};

// True for names that carry a hash of their content ("app-3KF0QZ7M.js"): they may be kept for good.
bool HasHashedName(std::string_view path);

}  // namespace rindwatch::web
