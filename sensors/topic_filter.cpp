#include "sensors/topic_filter.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace rindwatch::sensors {
namespace {

constexpr std::size_t kLongest = 65'535;  // bytes: a length of two bytes goes before the text (section 1.5.3)

std::vector<std::string_view> LevelsOf(std::string_view text) {
  std::vector<std::string_view> levels;
  for (;;) {
    const auto slash = text.find('/');
    levels.push_back(text.substr(0, slash));
    if (slash == std::string_view::npos) return levels;
    text.remove_prefix(slash + 1);
  }
}

bool StartsWithWildcard(std::string_view filter) { return filter.starts_with('+') || filter.starts_with('#'); }

std::string Quoted(std::string_view text) { return "\"" + std::string(text.substr(0, 200)) + "\""; }

// The character that begins at `at`, with its length; length 0 if the bytes are no UTF-8 (RFC 3629).
struct Character {
  std::uint32_t code = 0;
  std::size_t length = 0;
};
Character CharacterAt(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
  const std::uint32_t lead = byte(at);
  if (lead < 0x80) return {lead, 1};
  const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || at + length > text.size()) return {};
  std::uint32_t code = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) return {};
    code = code << 6U | (byte(at + i) & 0x3FU);
  }
  constexpr std::uint32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (code < kLeast[length] || code > 0x10FFFF || surrogate) return {};
  return {code, length};
}

// Brokers close the connection on ill-formed text and on control characters, so neither may be sent.
bool IsSendable(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Character c = CharacterAt(text, at);
    if (c.length == 0 || c.code < 0x20 || (c.code >= 0x7F && c.code <= 0x9F)) return false;
    at += c.length;
  }
  return true;
}

std::optional<std::string> TextFault(std::string_view text, const char* what) {
  if (text.empty()) return std::string("The ") + what + " is empty; write one such as cellar/box2/temperature.";
  if (text.size() > kLongest) {
    return std::string("The ") + what + " is " + std::to_string(text.size()) +
           " bytes long; MQTT carries 65535 at most.";
  }
  if (!IsSendable(text)) {
    return std::string("The ") + what + " holds control characters or bytes that are not UTF-8; type it anew.";
  }
  return std::nullopt;
}

std::optional<std::string> LevelFault(std::string_view filter, std::string_view level, bool last) {
  if (level.find('#') != std::string_view::npos && (level != "#" || !last)) {
    return "In the topic filter " + Quoted(filter) +
           " a # stands in a wrong place; it must be the whole last level, as in cellar/#.";
  }
  if (level.find('+') != std::string_view::npos && level != "+") {
    return "In the topic filter " + Quoted(filter) +
           " a + stands in a wrong place; it must fill a whole level, as in cellar/+/temperature.";
  }
  return std::nullopt;
}

// Matches what either of two overlapping filters matches: where they differ, one of them has a wildcard.
std::string Join(std::string_view one, std::string_view other) {
  const auto a = LevelsOf(one);
  const auto b = LevelsOf(other);
  std::string joined;
  for (std::size_t i = 0;; ++i) {
    const bool a_ends = i >= a.size();
    const bool b_ends = i >= b.size();
    if (a_ends && b_ends) return joined;
    if (i > 0) joined += '/';
    if (a_ends || b_ends || a[i] == "#" || b[i] == "#") return joined + "#";
    joined += a[i] == b[i] ? a[i] : std::string_view("+");
  }
}

}  // namespace

std::optional<std::string> FilterFault(std::string_view filter) {
  if (auto fault = TextFault(filter, "topic filter")) return fault;
  if (filter.starts_with("$share/")) {
    return "The topic filter " + Quoted(filter) +
           " is a shared subscription, which gives part of the messages to others; write the plain filter.";
  }
  const auto levels = LevelsOf(filter);
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (auto fault = LevelFault(filter, levels[i], i + 1 == levels.size())) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> TopicFault(std::string_view topic) {
  if (auto fault = TextFault(topic, "topic")) return fault;
  if (topic.find_first_of("+#") != std::string_view::npos) {
    return "The topic " + Quoted(topic) + " holds a + or #, which only a filter may; write the topic out.";
  }
  return std::nullopt;
}

bool Matches(std::string_view filter, std::string_view topic) {
  if (topic.starts_with('$') && StartsWithWildcard(filter)) return false;
  for (;;) {
    if (filter == "#") return true;
    const auto filter_slash = filter.find('/');
    const auto topic_slash = topic.find('/');
    const auto level = filter.substr(0, filter_slash);
    if (level != "+" && level != topic.substr(0, topic_slash)) return false;
    const bool filter_ends = filter_slash == std::string_view::npos;
    if (topic_slash == std::string_view::npos) return filter_ends || filter.substr(filter_slash) == "/#";
    if (filter_ends) return false;
    filter.remove_prefix(filter_slash + 1);
    topic.remove_prefix(topic_slash + 1);
  }
}

bool Overlap(std::string_view one, std::string_view other) {
  if (one.starts_with('$') && StartsWithWildcard(other)) return false;
  if (other.starts_with('$') && StartsWithWildcard(one)) return false;
  const auto a = LevelsOf(one);
  const auto b = LevelsOf(other);
  for (std::size_t i = 0;; ++i) {
    if ((i < a.size() && a[i] == "#") || (i < b.size() && b[i] == "#")) return true;
    if (i == a.size() || i == b.size()) return a.size() == b.size();
    if (a[i] != b[i] && a[i] != "+" && b[i] != "+") return false;
  }
}

std::vector<std::string> WithoutOverlaps(std::vector<std::string> filters) {
  std::vector<std::string> apart;
  for (auto& next : filters) {
    for (;;) {
      const auto hit = std::find_if(apart.begin(), apart.end(), [&](const auto& f) { return Overlap(f, next); });
      if (hit == apart.end()) break;
      next = Join(*hit, next);
      apart.erase(hit);
    }
    apart.push_back(std::move(next));
  }
  return apart;
}

}  // namespace rindwatch::sensors
