// The words of a language, one file that the page reads too. Sentences are made here for the terminal and the mail.
#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <utility>

namespace rindwatch {

class Words {
 public:
  // The English words, embedded by the build.
  static const Words& English();

  // `text` is a JSON object of key to text with {placeholders}. Throws std::runtime_error if it is not.
  explicit Words(std::string_view text);

  using Part = std::pair<std::string_view, std::string>;
  // The text of a key with its placeholders filled in; the key itself if there is no such text.
  std::string Say(const std::string& key, std::initializer_list<Part> parts = {}) const;
  // The same for a counted thing: KEY.one or KEY.other, with {count} in figures and {number} in words up to twelve.
  std::string Count(const std::string& key, std::size_t count, std::initializer_list<Part> parts = {}) const;
  bool Has(const std::string& key) const { return texts_.contains(key); }

 private:
  std::map<std::string, std::string> texts_;
};

}  // namespace rindwatch
