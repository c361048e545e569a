// The one renderer of the morning list: plain text in at most 72 columns, or in a phone's.
#pragma once

#include <string>

#include "daemon/morning/facts.hpp"
#include "daemon/words/words.hpp"

namespace rindwatch::morning {

// How things stand, in one line: the subject of the mail.
std::string Subject(const Words& words, const List& list);
// Date and all that follows it; no subject.
std::string Body(const Words& words, const List& list);
// The same in as many columns as a phone shows without being turned: 38. What finds no room beside stands below.
std::string BodyForPhone(const Words& words, const List& list);
// "Subject: ...", an empty line, the body.
std::string Text(const Words& words, const List& list);

}  // namespace rindwatch::morning
