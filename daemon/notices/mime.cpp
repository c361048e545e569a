#include "daemon/notices/mime.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace rindwatch {

namespace {

constexpr std::size_t kLongestLine = 76;  // RFC 2045, section 6.7; RFC 2047, section 2
constexpr std::string_view kWordBegins = "=?UTF-8?B?", kWordEnds = "?=";
// What one encoded word may hold: 75 signs with what is around it, four for three bytes.
constexpr std::size_t kBytesOfWord = 45;

std::string Base64(std::string_view bytes) {
  static constexpr std::string_view kSigns = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k)
      three = three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k) text += i + k > bytes.size() ? '=' : kSigns[three >> (18 - 6 * k) & 63];
  }
  return text;
}

bool Continues(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

// The first so many bytes, but no part of a character.
std::string_view Piece(std::string_view utf8, std::size_t most) {
  if (utf8.size() <= most) return utf8;
  std::size_t end = most;
  while (end > 0 && Continues(utf8[end])) --end;
  return utf8.substr(0, end > 0 ? end : most);
}

std::string WithoutBreaks(std::string_view text) {
  std::string line(text);
  std::ranges::replace_if(
      line, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }, ' ');
  return line;
}

bool IsPlain(std::string_view text) {
  return std::ranges::all_of(text, [](char c) { return c >= 0x20 && c < 0x7f; }) &&
         text.find("=?") == std::string_view::npos;
}

std::string Part(std::string_view boundary, std::string_view type, std::string_view body) {
  return fmt::format("--{}\r\nContent-Type: {}; charset=utf-8\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n{}",
                     boundary, type, QuotedPrintable(body));
}

}  // namespace

std::string HeaderText(std::string_view name, std::string_view utf8) {
  std::string line = WithoutBreaks(utf8);
  if (IsPlain(line) && name.size() + 2 + line.size() <= kLongestLine) return line;
  std::string text;
  std::string_view rest = line;
  // The first line also holds the header's name.
  std::size_t most = kBytesOfWord - std::min<std::size_t>(kBytesOfWord / 2, name.size() + 2);
  while (!rest.empty()) {
    const std::string_view piece = Piece(rest, most);
    if (!text.empty()) text += "\r\n ";
    text += std::string(kWordBegins) + Base64(piece) + std::string(kWordEnds);
    rest.remove_prefix(piece.size());
    most = kBytesOfWord;
  }
  return text;
}

std::string QuotedPrintable(std::string_view utf8) {
  std::string text;
  std::size_t column = 0;
  const auto put = [&](std::string_view piece) {
    if (column + piece.size() >= kLongestLine) {  // room for the "=" of a soft break
      text += "=\r\n";
      column = 0;
    }
    text += piece;
    column += piece.size();
  };
  for (std::size_t i = 0; i < utf8.size(); ++i) {
    const char c = utf8[i];
    if (c == '\n') {
      text += "\r\n";
      column = 0;
      continue;
    }
    if (c == '\r') continue;
    const bool at_end = i + 1 == utf8.size() || utf8[i + 1] == '\n';
    const bool plain = (c > 0x20 && c < 0x7f && c != '=') || ((c == ' ' || c == '\t') && !at_end);
    put(plain ? std::string(1, c) : fmt::format("={:02X}", static_cast<unsigned char>(c)));
  }
  if (column > 0) text += "\r\n";
  return text;
}

std::string DateHeader(rules::LocalTime date, std::chrono::seconds offset) {
  static constexpr std::array kDays{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  static constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const auto day = std::chrono::floor<std::chrono::days>(date);
  const std::chrono::year_month_day ymd{day};
  const std::chrono::hh_mm_ss time{std::chrono::floor<std::chrono::seconds>(date - day)};
  const auto minutes = std::chrono::floor<std::chrono::minutes>(std::chrono::abs(offset));
  return fmt::format("{}, {} {} {} {:02}:{:02}:{:02} {}{:02}{:02}", kDays.at(std::chrono::weekday{day}.c_encoding()),
                     static_cast<unsigned>(ymd.day()), kMonths.at(static_cast<unsigned>(ymd.month()) - 1),
                     static_cast<int>(ymd.year()), time.hours().count(), time.minutes().count(), time.seconds().count(),
                     offset.count() < 0 ? '-' : '+', minutes.count() / 60, minutes.count() % 60);
}

std::string MailText(const Envelope& envelope, const Letter& letter) {
  // Quoted-printable has no line that begins with "--" and goes on with "=_", so the boundary cannot occur.
  const std::string boundary = "=_rindwatch";
  std::string text;
  const auto header = [&text](std::string_view name, std::string_view value) {
    text += fmt::format("{}: {}\r\n", name, value);
  };
  header("Date", DateHeader(envelope.date, envelope.offset));
  const std::string name = HeaderText("From", envelope.from_name);
  const bool quoted = IsPlain(envelope.from_name);
  std::string safe;
  for (const char c : name) safe += quoted && (c == '"' || c == '\\') ? std::string{'\\', c} : std::string(1, c);
  header("From", fmt::format("{0}{1}{0} <{2}>", quoted ? "\"" : "", safe, envelope.from));
  header("To", fmt::format("<{}>", envelope.to));
  header("Subject", HeaderText("Subject", letter.subject));
  header("Message-ID", fmt::format("<{}>", envelope.id));
  header("Auto-Submitted", "auto-generated");  // RFC 3834: nobody's holiday answers it
  header("X-Rindwatch", envelope.list);
  if (envelope.urgent) {
    header("Importance", "high");  // RFC 2156
    header("X-Priority", "1");
  }
  header("MIME-Version", "1.0");
  header("Content-Type", fmt::format("multipart/alternative; boundary=\"{}\"", boundary));
  text += "\r\n";
  text += Part(boundary, "text/plain", PlainText(letter));
  text += Part(boundary, "text/html", HtmlText(letter));
  return text + fmt::format("--{}--\r\n", boundary);
}

}  // namespace rindwatch
