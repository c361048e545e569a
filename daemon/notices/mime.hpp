// A letter as a mail: headers and body as RFC 5322, 2045 to 2047 and 2046 (multipart/alternative) have them.
#pragma once

#include <string>
#include <string_view>

#include "daemon/notices/letter.hpp"
#include "rules/time.hpp"

namespace rindwatch {

struct Envelope {
  std::string from, from_name;
  std::string to;
  std::string id;  // of the message, without brackets: "key@host"
  rules::LocalTime date;
  std::chrono::seconds offset{0};  // of the date from UTC
  bool urgent = false;
  std::string list;  // names the kind of notice, for the keeper's own sorting: "alarm", "round"
};

// The whole message with CRLF, as it goes out after DATA; dots are the sender's matter.
std::string MailText(const Envelope& envelope, const Letter& letter);

// ---- its parts ----
// An unstructured header's text: as it is if it is plain ASCII, else in encoded words; line breaks are taken out.
std::string HeaderText(std::string_view name, std::string_view utf8);
std::string QuotedPrintable(std::string_view utf8);                          // lines of at most 76, CRLF
std::string DateHeader(rules::LocalTime date, std::chrono::seconds offset);  // "Thu, 26 Nov 2026 06:30:00 +0100"

}  // namespace rindwatch
