#include "sensors/simulated/mishap.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>
#include <stdexcept>
#include <utility>
#include <vector>

namespace rindwatch::sensors::simulated {

namespace {

using Kind = Mishap::Kind;
using std::chrono::seconds;

struct Phrase {
  Kind kind;
  std::string_view words;
  bool names;  // a subject follows
  bool spans;  // a span may follow
};
constexpr std::array<Phrase, 19> kPhrases = {{{Kind::kDoorAjar, "door ajar", false, true},
                                              {Kind::kDoorShut, "door shut", false, false},
                                              {Kind::kCompressorDead, "compressor dead", false, true},
                                              {Kind::kCompressorSticks, "compressor sticks", false, true},
                                              {Kind::kCompressorMended, "compressor mended", false, false},
                                              {Kind::kProbeSilent, "probe silent", true, true},
                                              {Kind::kProbeBack, "probe back", true, false},
                                              {Kind::kPowerCut, "power cut", false, true},
                                              {Kind::kPowerBack, "power back", false, false},
                                              {Kind::kThermostatDrifts, "thermostat drifts", false, true},
                                              {Kind::kThermostatMended, "thermostat mended", false, false},
                                              {Kind::kCoilIces, "coil ices", false, true},
                                              {Kind::kCoilThawed, "coil thawed", false, false},
                                              {Kind::kWickDry, "wick dry", false, true},
                                              {Kind::kWickFilled, "wick filled", false, false},
                                              {Kind::kHeatWave, "heat wave", false, true},
                                              {Kind::kDelivery, "delivery", false, true},
                                              {Kind::kProbeStuck, "probe stuck", true, true},
                                              {Kind::kProbeWet, "probe wet", true, true}}};

constexpr std::string_view kKnown =
    "known are: door ajar [30m], door shut, compressor dead|sticks [2h], compressor mended, probe silent|stuck|wet "
    "NAME [1h], "
    "probe back NAME, power cut [1h], power back, thermostat drifts [48h], thermostat mended, coil ices [144h], "
    "coil thawed, wick dry [24h], wick filled, heat wave [72h], delivery, BOX lid shut|ajar|off";
// Longer spans are typing errors.
constexpr seconds kLongest = std::chrono::hours{24 * 365};

std::string Lower(std::string_view text) {
  std::string lower{text};
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

bool IsBlank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

// The words of a line with one blank between them.
std::string Tidy(std::string_view line) {
  std::string tidy;
  for (const char c : line) {
    if (!IsBlank(c)) {
      tidy += c;
    } else if (!tidy.empty() && tidy.back() != ' ') {
      tidy += ' ';
    }
  }
  if (!tidy.empty() && tidy.back() == ' ') tidy.pop_back();
  return tidy;
}

seconds UnitOf(char c) {
  switch (c) {
    case 'h':
      return std::chrono::hours{1};
    case 'm':
      return std::chrono::minutes{1};
    case 's':
      return seconds{1};
    default:
      return seconds{0};
  }
}

// "1h30m"; none if it is no span.
std::optional<seconds> SpanFrom(std::string_view text) {
  seconds all{0};
  std::int64_t number = -1;
  for (const char c : text) {
    if (c >= '0' && c <= '9') {
      number = std::max(number, std::int64_t{0}) * 10 + (c - '0');
      if (number > kLongest.count()) return std::nullopt;
      continue;
    }
    const seconds unit = UnitOf(c);
    if (number < 0 || unit == seconds{0}) return std::nullopt;
    all += unit * number;
    number = -1;
  }
  if (number >= 0 || all <= seconds{0} || all > kLongest) return std::nullopt;
  return all;
}

std::string SpanText(seconds span) {
  std::string text;
  for (const auto& [unit, letter] : {std::pair{seconds{3600}, 'h'}, {seconds{60}, 'm'}, {seconds{1}, 's'}}) {
    if (span >= unit) text += std::to_string(span / unit) + letter;
    span %= unit;
  }
  return text;
}

[[noreturn]] void Refuse(std::string_view line, std::string_view why) {
  throw std::invalid_argument("\"" + std::string{line.substr(0, 80)} + "\": " + std::string{why});
}

// A span after a name is the last word; a name that looks like a span and stands alone is the name.
void SplitName(Mishap& mishap, std::string rest) {
  const auto blank = rest.rfind(' ');
  if (blank != std::string::npos) {
    mishap.span = SpanFrom(Lower(rest.substr(blank + 1)));
    if (mishap.span) rest.resize(blank);
  }
  mishap.subject = std::move(rest);
}

// What follows the phrase's own words: a name, a span, both or neither.
void ReadRest(Mishap& mishap, const Phrase& phrase, const std::string& rest, std::string_view line) {
  if (phrase.names) {
    if (rest.empty()) Refuse(line, "the name of a probe is missing; write for example: probe silent Box 1");
    if (!phrase.spans) {
      mishap.subject = rest;
      return;
    }
    return SplitName(mishap, rest);
  }
  if (rest.empty()) return;
  if (!phrase.spans) Refuse(line, "nothing may follow \"" + std::string{phrase.words} + "\"");
  std::string span = Lower(rest);
  std::erase(span, ' ');
  mishap.span = SpanFrom(span);
  if (!mishap.span) Refuse(line, "\"" + rest.substr(0, 40) + "\" is no span; write for example 30m, 2h or 1h30m");
}

std::optional<Mishap> LidFromLine(const std::string& tidy, std::string_view line) {
  const auto at = Lower(tidy).rfind(" lid ");
  if (at == std::string::npos || at == 0) return std::nullopt;
  const auto lid = LidFrom(Lower(tidy.substr(at + 5)));
  if (!lid) Refuse(line, "a lid is shut, ajar or off");
  std::string name = tidy.substr(0, at);
  // "box Box 1 lid ajar" reads as naturally.
  if (Lower(name).starts_with("box box ")) name.erase(0, 4);
  return Mishap{.kind = Kind::kLid, .subject = std::move(name), .lid = *lid};
}

}  // namespace

std::string_view ToText(Lid lid) {
  switch (lid) {
    case Lid::kShut:
      return "shut";
    case Lid::kAjar:
      return "ajar";
    case Lid::kOff:
      return "off";
  }
  return "";
}

std::optional<Lid> LidFrom(std::string_view text) {
  for (const Lid lid : {Lid::kShut, Lid::kAjar, Lid::kOff}) {
    if (ToText(lid) == text) return lid;
  }
  return std::nullopt;
}

Mishap ParseMishap(std::string_view line) {
  const std::string tidy = Tidy(line);
  const std::string lower = Lower(tidy);
  for (const Phrase& phrase : kPhrases) {
    if (!lower.starts_with(phrase.words)) continue;
    if (lower.size() > phrase.words.size() && lower[phrase.words.size()] != ' ') continue;
    Mishap mishap{.kind = phrase.kind};
    ReadRest(mishap, phrase, tidy.size() > phrase.words.size() ? tidy.substr(phrase.words.size() + 1) : "", line);
    return mishap;
  }
  if (auto lid = LidFromLine(tidy, line)) return *std::move(lid);
  Refuse(line, "no such mishap; " + std::string{kKnown});
}

std::string ToText(const Mishap& mishap) {
  if (mishap.kind == Kind::kLid) return mishap.subject + " lid " + std::string{ToText(mishap.lid)};
  std::string text;
  for (const Phrase& phrase : kPhrases) {
    if (phrase.kind == mishap.kind) text = phrase.words;
  }
  if (!mishap.subject.empty()) text += ' ' + mishap.subject;
  if (mishap.span) text += ' ' + SpanText(*mishap.span);
  return text;
}

}  // namespace rindwatch::sensors::simulated
