#include "daemon/api/leaps.hpp"

#include <fmt/format.h>

#include <boost/json.hpp>

#include "daemon/api/sentence.hpp"
#include "daemon/book/desk.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/words/moments.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {
constexpr const char* kKind = "leapt";
}  // namespace

JournalLine LeapLine(const Leap& leap) {
  json::object body{{"from", ToMillis(leap.from)}, {"to", ToMillis(leap.to)}};
  return OwnLine(kKind, fmt::format("leapt {}", ToMillis(leap.to)), std::move(body), leap.to);
}

std::optional<Leap> LeapOf(const JournalLine& line) {
  if (line.kind != kKind) return std::nullopt;
  boost::system::error_code error;
  const json::value body = json::parse(line.body, error);
  if (error || !body.is_object()) return std::nullopt;
  const auto from = fields::MaybeAt(body.as_object(), "from"), to = fields::MaybeAt(body.as_object(), "to");
  return from && to ? std::optional(Leap{*from, *to}) : std::nullopt;
}

std::vector<Leap> LeapsIn(const Book& book) {
  std::vector<Leap> leaps;
  for (const JournalLine& line : book.Newest())
    if (const auto leap = LeapOf(line)) leaps.push_back(*leap);
  return leaps;
}

std::string LeapSpan(const Words& words, const Leap& leap) {
  return LastsWords(words, std::chrono::floor<std::chrono::minutes>(leap.to - leap.from));
}

std::string LeapTrouble(const ApiContext& context, const Leap& leap) {
  return context.words.Say("trouble.leap", {{"from", SinceWord(context, leap.from)},
                                            {"to", SinceWord(context, leap.to)},
                                            {"span", LeapSpan(context.words, leap)}});
}

}  // namespace rindwatch
