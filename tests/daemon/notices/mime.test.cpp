#include "daemon/notices/mime.hpp"

#include <random>

#include "tests/catch.hpp"
#include "tests/daemon/store/support.hpp"

namespace rindwatch {
namespace {

using testing::Says;

Envelope ToIh() {
  Envelope envelope;
  envelope.from = "cave@cave.example";
  envelope.from_name = "The \"old\" cave";
  envelope.to = "ih@cave.example";
  envelope.id = "1.2@cave.example";
  envelope.date = rules::LocalTime{rules::MakeDate(2026, 11, 26)} + std::chrono::hours{6} + std::chrono::minutes{30};
  envelope.offset = std::chrono::hours{1};
  return envelope;
}

// Back to what it was; by the rules of RFC 2045, section 6.7.
std::string Decoded(const std::string& text) {
  std::string bytes;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.compare(i, 3, "=\r\n") == 0) {
      i += 2;
    } else if (text[i] == '=') {
      bytes += static_cast<char>(std::stoi(text.substr(i + 1, 2), nullptr, 16));
      i += 2;
    } else if (text[i] != '\r') {
      bytes += text[i];
    }
  }
  return bytes;
}

}  // namespace

TEST_CASE("a date is written as RFC 5322 has it") {
  const Envelope envelope = ToIh();
  CHECK(DateHeader(envelope.date, envelope.offset) == "Thu, 26 Nov 2026 06:30:00 +0100");
  CHECK(DateHeader(envelope.date, -std::chrono::minutes{210}) == "Thu, 26 Nov 2026 06:30:00 -0330");
}

TEST_CASE("a header of plain letters stays as it is, others go into encoded words, none into a line of its own") {
  CHECK(HeaderText("Subject", "Seven lines, 20 minutes. Box 1 drifts damp.") ==
        "Seven lines, 20 minutes. Box 1 drifts damp.");
  // RFC 2047, section 2: "=?charset?encoding?encoded-text?=".
  CHECK(HeaderText("Subject", "15.9 °C") == "=?UTF-8?B?MTUuOSDCsEM=?=");
  CHECK(HeaderText("Subject", "a\r\nBcc: x@y") == "a  Bcc: x@y");
  std::string long_subject(60, 'x');
  long_subject += " käse käse käse käse käse käse";
  const std::string longer = HeaderText("Subject", long_subject);
  std::size_t from = 0, lines = 0;
  while (from < longer.size()) {
    std::size_t end = longer.find("\r\n", from);
    if (end == std::string::npos) end = longer.size();
    const std::string line = longer.substr(from, end - from);
    CHECK((lines++ == 0 ? line.size() + 9 : line.size()) <= 76);
    if (from > 0) CHECK(line[0] == ' ');
    from = end + 2;
  }
  CHECK(lines > 1);
}

TEST_CASE("quoted-printable has short lines and gives back what went in") {
  std::mt19937 random(7);
  for (int turn = 0; turn < 300; ++turn) {
    std::string text;
    for (auto left = random() % 400; left > 0; --left) {
      static const char* pieces[] = {"a", "=", " ", "\n", "°", "ä", ".", "  \n", "—", "\t"};
      text += pieces[random() % 10];
    }
    const std::string quoted = QuotedPrintable(text);
    std::size_t from = 0;
    while (from < quoted.size()) {
      const std::size_t end = quoted.find("\r\n", from);
      REQUIRE(end != std::string::npos);
      CHECK(end - from <= 76);
      if (end > from) CHECK((quoted[end - 1] != ' ' && quoted[end - 1] != '\t'));
      from = end + 2;
    }
    std::string back = Decoded(quoted);
    if (!text.empty() && text.back() != '\n' && back.ends_with('\n')) back.pop_back();
    CHECK(back == text);
  }
}

TEST_CASE("a mail has one of each header that it needs, two parts, and no bare line feed") {
  Letter letter;
  letter.subject = "Box 1 drifts damp: 93+ % — open the lid";
  letter.Head(letter.subject).Text("Wärme");
  Envelope envelope = ToIh();
  envelope.urgent = true;
  const std::string mail = MailText(envelope, letter);
  for (const char* header :
       {"\r\nFrom: \"The \\\"old\\\" cave\" <cave@cave.example>\r\n", "\r\nTo: <ih@cave.example>\r\n",
        "\r\nMessage-ID: <1.2@cave.example>\r\n", "\r\nMIME-Version: 1.0\r\n", "\r\nImportance: high\r\n",
        "Content-Type: text/plain; charset=utf-8\r\n", "Content-Type: text/html; charset=utf-8\r\n"})
    CHECK_THAT(mail, Says(header));
  for (std::size_t i = 0; i < mail.size(); ++i) {
    if (mail[i] == '\n') CHECK((i > 0 && mail[i - 1] == '\r'));
    CHECK(static_cast<unsigned char>(mail[i]) < 0x80);
  }
}

}  // namespace rindwatch
