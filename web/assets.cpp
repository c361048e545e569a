#include "web/assets.hpp"

#include <openssl/evp.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "web/complaint.hpp"
#include "web/dress.hpp"
#include "web/gzip.hpp"

namespace rindwatch::web {

namespace {

constexpr std::string_view kIndex = "/index.html";

constexpr std::array<std::pair<std::string_view, std::string_view>, 14> kTypes{{
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".json", "application/json"},
    {".map", "application/json"},
    {".webmanifest", "application/manifest+json"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".jpg", "image/jpeg"},
    {".webp", "image/webp"},
    {".ico", "image/vnd.microsoft.icon"},
    {".woff2", "font/woff2"},
    {".txt", "text/plain; charset=utf-8"},
    {".yaml", "application/yaml"},
}};

// With the dot; empty if the last part of the path has none.
std::string_view ExtensionOf(std::string_view path) {
  const std::size_t dot = path.rfind('.');
  const std::size_t slash = path.rfind('/');
  if (dot == std::string_view::npos || (slash != std::string_view::npos && dot < slash)) return {};
  return path.substr(dot);
}

std::string_view TypeOf(std::string_view path) {
  const std::string_view extension = ExtensionOf(path);
  for (const auto& [name, type] : kTypes) {
    if (name == extension) return type;
  }
  return "application/octet-stream";
}

std::string StyleHash(std::string_view style) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int length = 0;
  if (EVP_Digest(style.data(), style.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1) {
    throw std::runtime_error("OpenSSL gives no SHA-256");
  }
  std::array<unsigned char, EVP_MAX_MD_SIZE * 2> text{};
  const int size = EVP_EncodeBlock(text.data(), digest.data(), static_cast<int>(length));
  return "sha256-" + std::string(text.begin(), text.begin() + size);
}

// Of every <style> element that stands in the page itself.
std::vector<std::string> StyleHashes(std::string_view html) {
  std::vector<std::string> hashes;
  std::size_t at = 0;
  while ((at = html.find("<style", at)) != std::string_view::npos) {
    const std::size_t begin = html.find('>', at);
    const std::size_t end = html.find("</style>", at);
    if (begin == std::string_view::npos || end == std::string_view::npos || end < begin) break;
    hashes.push_back(StyleHash(html.substr(begin + 1, end - begin - 1)));
    at = end;
  }
  return hashes;
}

// If-None-Match: a list of tags, or a star; compared weakly, as RFC 9110 section 13.1.2 asks.
bool Names(std::string_view if_none_match, const std::string& tag) {
  return if_none_match == "*" || if_none_match.find(tag) != std::string_view::npos;
}

Response NothingHere(const Request& request) {
  return Complain(404, {"No file of the page has this name.", "a file of the page", request.path,
                        "Load the page again; it begins at /."});
}

Response NoPage() {
  return Complain(404,
                  {"This program was built without its page.", "a page", "none",
                   "Build it with Node and npm on the PATH, or give CMake a finished page by RINDWATCH_PAGE_DIR."});
}

}  // namespace

Assets::Assets(const std::vector<AssetFile>& files) {
  for (const AssetFile& file : files) files_.emplace(file.path, file);
  const auto index = files_.find(kIndex);
  if (index != files_.end()) index_policy_ = ContentPolicy(StyleHashes(index->second.bytes));
}

Response Assets::Send(const AssetFile& file, const Request& request) const {
  const bool compressed = !file.gzip.empty() && AcceptsGzip(request.Header("accept-encoding"));
  // Two encodings of one file are two representations and need two tags.
  const std::string tag = "\"" + std::string(file.hash) + (compressed ? "-gz\"" : "\"");
  Response response;
  response.content_type = TypeOf(file.path);
  response.headers["ETag"] = tag;
  response.headers["Cache-Control"] = HasHashedName(file.path) ? "public, max-age=31536000, immutable" : "no-cache";
  if (!file.gzip.empty()) response.headers["Vary"] = "Accept-Encoding";
  if (file.path == kIndex) response.headers["Content-Security-Policy"] = index_policy_;
  if (Names(request.Header("if-none-match"), tag)) {
    response.status = 304;
    return response;
  }
  if (compressed) response.headers["Content-Encoding"] = "gzip";
  response.body = compressed ? file.gzip : file.bytes;
  return response;
}

Response Assets::Find(const Request& request) const {
  if (files_.empty()) return NoPage();
  const auto file = files_.find(request.path);
  if (file != files_.end()) return Send(file->second, request);
  const auto index = files_.find(kIndex);
  if (index != files_.end() && ExtensionOf(request.path).empty()) return Send(index->second, request);
  return NothingHere(request);
}

Handler Assets::AsHandler() const {
  return [this](const Request& request, const Answer& answer) { answer(Find(request)); };
}

bool HasHashedName(std::string_view path) {
  constexpr std::size_t kHash = 8;
  const std::string_view extension = ExtensionOf(path);
  if (extension.empty()) return false;
  path.remove_suffix(extension.size());
  if (path.size() < kHash + 2 || path[path.size() - kHash - 1] != '-') return false;
  return path.substr(path.size() - kHash).find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") ==
         std::string_view::npos;
}

}  // namespace rindwatch::web
