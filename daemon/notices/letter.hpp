// What is said in a notice, before it takes the form of a mail or a message: a subject and what follows it. A value.
#pragma once

#include <boost/json/object.hpp>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "rules/time.hpp"

namespace rindwatch {

struct Letter {
  struct Block {
    // Stored by their text.
    enum class Kind {
      kHead,   // the sentence that matters
      kText,   // a paragraph
      kRows,   // two columns
      kSteps,  // first, second, third
      kPlain,  // as it stands, in columns of one width
      kLink,   // text and address
    };
    Kind kind = Kind::kText;
    std::string text;     // of rows and steps: what stands above them
    std::string address;  // of a link
    std::string narrow;   // of what stands in columns: the same in fewer, for a page; empty: as it stands
    std::vector<std::pair<std::string, std::string>> rows;
    std::vector<std::string> steps;
    bool operator==(const Block&) const = default;
  };

  std::string subject;
  bool grave = false;  // an alarm that lasts: set in red ink
  // Of what it speaks, for whoever sorts it; empty and 0: of no alarm, of no cave. Of several alarms the first it
  // tells.
  std::string severity, alarm, cave_name;
  std::string kind;                // "rings", "again", "taken", "over", by what it says first; empty: of no alarm
  std::vector<std::string> ended;  // the alarms that it tells as over
  std::int64_t cave = 0;
  std::optional<rules::Instant> as_of{};  // when it was so as it says; none: when its row was made
  std::vector<Block> blocks;

  Letter& Head(std::string text);
  Letter& Text(std::string text);  // an empty one adds nothing
  Letter& Rows(std::string above, std::vector<std::pair<std::string, std::string>> rows);
  Letter& Steps(std::string above, std::vector<std::string> steps);
  Letter& Plain(std::string text, std::string narrow = {});
  Letter& Link(std::string text, std::string address);
  bool operator==(const Letter&) const = default;
};

// In at most 72 columns; addresses are never broken.
std::string PlainText(const Letter& letter);
// The same in as many as a phone shows: 38.
std::string PhoneText(const Letter& letter);
// A whole document that needs nothing from outside: no picture, no script, no style sheet.
std::string HtmlText(const Letter& letter);

boost::json::object ToJson(const Letter& letter);
// Throws std::runtime_error for text that ToJson did not make.
Letter LetterFrom(std::string_view json);

}  // namespace rindwatch
