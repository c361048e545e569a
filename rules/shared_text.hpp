// A text that is mostly empty and, where it is not, held by many.
#pragma once

#include <memory>
#include <string>
#include <utility>

namespace rindwatch::rules {

// Never changed; a copy shares it. Compared as text, and made from one wherever one is given: implicitly.
class SharedText {
 public:
  SharedText() = default;  // NOLINTNEXTLINE(google-explicit-constructor)
  SharedText(std::string text) : text_(text.empty() ? nullptr : std::make_shared<const std::string>(std::move(text))) {}
  SharedText(const char* text) : SharedText(std::string{text}) {}  // NOLINT(google-explicit-constructor)

  bool Empty() const { return text_ == nullptr; }
  std::string Text() const { return text_ ? *text_ : std::string{}; }
  friend bool operator==(const SharedText& a, const SharedText& b) {
    return a.text_ == b.text_ || (a.text_ && b.text_ && *a.text_ == *b.text_);
  }

 private:
  std::shared_ptr<const std::string> text_;  // null: empty
};

}  // namespace rindwatch::rules
