#include "rules/alarms/archive.hpp"

#include <algorithm>
#include <cstdio>

namespace rindwatch::rules::watch {
namespace {

constexpr char kHex[] = "0123456789abcdef";

bool IsPlain(char c) { return c > ' ' && c < 0x7f && c != '%'; }

int HexValue(char c) {
  const char* const found = std::find(kHex, kHex + 16, c);
  return found == kHex + 16 ? -1 : static_cast<int>(found - kHex);
}

std::optional<std::string> Unescaped(std::string_view word) {
  std::string text;
  for (std::size_t i = 0; i < word.size(); ++i) {
    if (word[i] != '%') {
      text += word[i];
      continue;
    }
    if (i + 2 >= word.size()) return std::nullopt;
    const int high = HexValue(word[i + 1]), low = HexValue(word[i + 2]);
    if (high < 0 || low < 0) return std::nullopt;
    text += static_cast<char>(high * 16 + low);
    i += 2;
  }
  return text;
}

template <class T>
bool Parse(std::string_view word, T& value) {
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
  return error == std::errc{} && end == word.data() + word.size() && !word.empty();
}

}  // namespace

void Writer::Put(std::string_view word) {
  text_ += ' ';
  text_ += word;
}

void Writer::Line(std::string_view tag) {
  if (!text_.empty()) text_ += '\n';
  text_ += tag;
}

void Writer::Word(std::int64_t& value) {
  char word[24];
  Put({word, std::to_chars(word, word + sizeof word, value).ptr});
}

void Writer::Word(double& value) {
  char word[40];
  Put({word, std::to_chars(word, word + sizeof word, value).ptr});
}

void Writer::Word(std::string& text) {
  std::string word = "'";  // so that an empty text is a word
  for (const char c : text) {
    if (IsPlain(c)) {
      word += c;
    } else {
      const auto byte = static_cast<unsigned char>(c);
      word += {'%', kHex[byte >> 4], kHex[byte & 15]};
    }
  }
  Put(word);
}

void Writer::Count(std::size_t& count, std::size_t) {
  auto number = static_cast<std::int64_t>(count);
  Word(number);
}

std::string_view Reader::Next() {
  if (!ok_ || rest_.empty() || rest_.front() != ' ') {
    Spoil();
    return {};
  }
  rest_.remove_prefix(1);
  const std::string_view word = rest_.substr(0, rest_.find_first_of(" \n"));
  rest_.remove_prefix(word.size());
  return word;
}

void Reader::Line(std::string_view tag) {
  if (!rest_.empty() && rest_.front() == '\n') rest_.remove_prefix(1);
  if (rest_.substr(0, tag.size()) != tag) return Spoil();
  rest_.remove_prefix(tag.size());
}

void Reader::Word(std::int64_t& value) {
  if (!Parse(Next(), value)) Spoil();
}

void Reader::Word(double& value) {
  if (!Parse(Next(), value) || !std::isfinite(value)) {
    value = 0;
    Spoil();
  }
}

void Reader::Word(std::string& text) {
  const std::string_view word = Next();
  if (word.empty() || word.front() != '\'') return Spoil();
  auto unescaped = Unescaped(word.substr(1));
  if (!unescaped) return Spoil();
  text = std::move(*unescaped);
}

void Reader::Count(std::size_t& count, std::size_t most) {
  std::int64_t number = 0;
  Word(number);
  // Every item takes two characters at least.
  if (number < 0 || static_cast<std::size_t>(number) > std::min(most, rest_.size() / 2 + 1)) Spoil();
  count = ok_ ? static_cast<std::size_t>(number) : 0;
}

std::string Checksum(std::string_view text) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  char digits[17];
  std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(hash));
  return digits;
}

}  // namespace rindwatch::rules::watch
