#include "daemon/words/words.hpp"

#include <boost/json.hpp>

#include "daemon/words/embedded.hpp"

namespace rindwatch {

namespace {

void Fill(std::string& text, std::string_view name, const std::string& value) {
  const std::string place = "{" + std::string(name) + "}";
  for (std::size_t at = text.find(place); at != std::string::npos; at = text.find(place, at + value.size())) {
    text.replace(at, place.size(), value);
  }
}

}  // namespace

const Words& Words::English() {
  static const Words english{EnglishWords()};
  return english;
}

Words::Words(std::string_view text) {
  const boost::json::value words = boost::json::parse(boost::json::string_view(text.data(), text.size()));
  for (const auto& [key, value] : words.as_object()) texts_.emplace(key, std::string(value.as_string()));
}

std::string Words::Say(const std::string& key, std::initializer_list<Part> parts) const {
  const auto found = texts_.find(key);
  if (found == texts_.end()) return key;
  std::string text = found->second;
  for (const Part& part : parts) Fill(text, part.first, part.second);
  return text;
}

std::string Words::Count(const std::string& key, std::size_t count, std::initializer_list<Part> parts) const {
  std::string text = Say(key + (count == 1 ? ".one" : ".other"), parts);
  const std::string figures = std::to_string(count);
  const std::string number = "count." + figures;
  Fill(text, "number", Has(number) ? Say(number) : figures);
  Fill(text, "count", figures);
  return text;
}

}  // namespace rindwatch
