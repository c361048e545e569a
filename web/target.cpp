#include "web/target.hpp"

#include <algorithm>
#include <boost/url.hpp>
#include <utility>

namespace rindwatch::web {

namespace {

namespace urls = boost::urls;

bool IsHidden(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7f || c == '/' || c == '\\';
}

// One part of a path, decoded; none if no address of ours has it.
std::optional<std::string> ReadPart(std::string_view encoded) {
  const auto view = urls::make_pct_string_view(boost::core::string_view(encoded.data(), encoded.size()));
  if (!view) return std::nullopt;
  std::string part = view->decode();
  if (part == "." || part == ".." || std::any_of(part.begin(), part.end(), IsHidden)) return std::nullopt;
  return part;
}

std::optional<std::string> ReadPath(std::string_view encoded) {
  std::string path;
  while (!encoded.empty()) {
    encoded.remove_prefix(1);
    const std::size_t end = std::min(encoded.find('/'), encoded.size());
    const auto part = ReadPart(encoded.substr(0, end));
    if (!part) return std::nullopt;
    path += "/" + *part;
    encoded.remove_prefix(end);
  }
  return path.empty() ? "/" : path;
}

}  // namespace

std::optional<Target> ReadTarget(std::string_view target) {
  const boost::core::string_view text(target.data(), target.size());
  const auto url = target.starts_with('/') ? urls::parse_origin_form(text) : urls::parse_absolute_uri(text);
  if (!url || (url->has_scheme() && !url->has_authority())) return std::nullopt;
  const boost::core::string_view encoded = url->encoded_path();
  const auto path = ReadPath(std::string_view(encoded.data(), encoded.size()));
  if (!path) return std::nullopt;
  Target out;
  out.path = *path;
  for (const auto& parameter : url->params()) out.query[std::string(parameter.key)] = std::string(parameter.value);
  return out;
}

std::string WriteTarget(const Target& target) {
  constexpr auto kInPath = urls::pchars + '/';
  std::string text = urls::encode(target.path, kInPath);
  char mark = '?';
  for (const auto& [name, value] : target.query) {
    text += std::exchange(mark, '&') + urls::encode(name, urls::unreserved_chars) + "=" +
            urls::encode(value, urls::unreserved_chars);
  }
  return text;
}

}  // namespace rindwatch::web
