#include "daemon/replay/sentences.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <vector>

#include "daemon/replay/span.hpp"
#include "daemon/words/moments.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch {
namespace {

constexpr double kDaysOfMonth = 30.44;  // on the mean of the calendar

// "once", "twice", "3 times".
std::string Times(const Words& words, int count) {
  const std::string key = "replay.times." + std::to_string(count);
  return words.Has(key) ? words.Say(key) : words.Say("replay.times", {{"count", std::to_string(count)}});
}

// The key's form for one, two and more, with {count}.
std::string Several(const Words& words, const std::string& key, int count) {
  if (count == 2) return words.Say(key + ".both");
  return words.Count(key, static_cast<std::size_t>(count));
}

// What follows "rung 4 times instead of 31": whether also for what was real.
std::string OfReal(const Words& words, const Retold& real) {
  if (real.rang == 0) return "";
  if (real.still == real.rang) return Several(words, "replay.real all", real.rang);
  if (real.still == 0) return Several(words, "replay.real none", real.rang);
  return words.Say("replay.real some", {{"found", std::to_string(real.still)}, {"real", std::to_string(real.rang)}});
}

std::string HowOften(const Words& words, int now, int then, const std::string& span, const Retold& real) {
  const std::string over = span.empty() ? "" : words.Say("replay.in span", {{"span", span}});
  if (now == 0 && then == 0) return words.Say("replay.would.never", {{"over", over}});
  if (now == 0) {
    const std::string quiet = real.rang > 0 ? Several(words, "replay.real quiet", real.rang) : "";
    return words.Say("replay.would.quiet", {{"over", over}, {"real", quiet}, {"then", Times(words, then)}});
  }
  const std::string it = span.empty() ? words.Say("replay.it") : span;
  const std::string key = then == 0 ? "first" : now == then ? "same" : "instead";
  // "4 times instead of 31", but "once instead of twice" and "twice instead of 4 times".
  const std::string before = now > 2 && then > 2 ? std::to_string(then) : Times(words, then);
  return words.Say("replay.would." + key,
                   {{"span", it}, {"now", Times(words, now)}, {"then", before}, {"real", OfReal(words, real)}});
}

// "that you called a door", "that nobody named".
std::string Named(const Words& words, const std::string& what) {
  if (what.empty()) return words.Say("replay.nobody named");
  const std::string key = "replay.called." + what;
  return words.Has(key) ? words.Say(key) : words.Say("replay.called", {{"what", what}});
}

std::string Joined(const Words& words, const std::vector<std::string>& all) {
  std::string list;
  for (std::size_t i = 0; i + 1 < all.size(); ++i) list += (i == 0 ? "" : ", ") + all[i];
  return all.size() == 1 ? all[0] : words.Say("replay.and", {{"list", list}, {"last", all.back()}});
}

// Of what was called otherwise or not at all: what it keeps quiet about, and what it still rings for.
class Others {
 public:
  explicit Others(const Words& words) : words_(words) {}

  void Add(const Retold& retold, const std::string& what) {
    if (retold.rang == 0) return;
    const int quiet = retold.rang - retold.still;
    if (quiet > 0) quiet_.push_back(Some(quiet, retold.rang) + " " + Named(words_, what));
    if (quiet == 0) still_.push_back(Some(retold.rang, retold.rang) + " " + Named(words_, what));
  }
  std::string Sentences() const {
    std::string said;
    if (!quiet_.empty()) said += " " + words_.Say("replay.quiet about", {{"list", Joined(words_, quiet_)}});
    if (!still_.empty()) said += " " + words_.Say("replay.still rings", {{"list", Joined(words_, still_)}});
    return said;
  }

 private:
  // "the one", "both", "all 4", "3 of the 4".
  std::string Some(int count, int all) const {
    if (count == all) return Several(words_, "replay.all", all);
    return words_.Say("replay.some", {{"count", std::to_string(count)}, {"all", std::to_string(all)}});
  }

  const Words& words_;
  std::vector<std::string> quiet_, still_;
};

// Fewer bells are no quieter cave where one of them does not end.
std::string Longer(const Words& words, const ReplayReport& report) {
  const auto lasts = [&](const std::vector<Rung>& alarms) {
    rules::Millis all{0};
    for (const Rung& rung : alarms)
      if (rung.Rang()) all += std::min(rung.over.value_or(report.to), report.to) - rung.raised;
    return std::chrono::floor<std::chrono::minutes>(all);
  };
  const auto now = lasts(report.now), then = lasts(report.then);
  const bool fewer = TallyOf(report.now).rang < TallyOf(report.then).rang;
  if (!fewer || now <= then) return {};
  return " " + words.Say("replay.longer", {{"now", LastsWords(words, now)}, {"then", LastsWords(words, then)}});
}

}  // namespace

std::string WhatWord(const Words& words, const std::string& what) {
  return words.Has("what." + what) ? words.Say("what." + what) : what;
}

std::string TallySentence(const Words& words, const Tally& tally) {
  if (tally.rang == 0) return words.Say("replay.rang none");
  std::string parts;
  const auto add = [&](int count, const std::string& what) {
    if (count == 0) return;
    if (!parts.empty()) parts += ", ";
    parts += std::to_string(count) + " " + what;
  };
  add(tally.real, words.Say("replay.real"));
  for (const auto& [what, count] : tally.called) add(count, WhatWord(words, what));
  add(tally.unsaid, words.Say("replay.unsaid"));
  return words.Say("replay.rang", {{"times", Times(words, tally.rang)}, {"parts", parts}});
}

std::string SpanWord(const Words& words, rules::Millis span) {
  using Days = std::chrono::duration<double, std::chrono::days::period>;
  const auto days = static_cast<std::size_t>(std::max(1L, std::lround(Days(span).count())));
  const auto months = static_cast<std::size_t>(std::lround(static_cast<double>(days) / kDaysOfMonth));
  if (months < 2) return words.Count("replay.last days", days);
  const std::string key = "count." + std::to_string(months);
  std::string number = words.Has(key) ? words.Say(key) : std::to_string(months);
  number[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(number[0])));
  return words.Say("replay.last months", {{"months", number}});
}

std::string ReplaySentence(const Words& words, const ReplayReport& report, const std::string& span) {
  const int now = TallyOf(report.now).rang, then = TallyOf(report.then).rang;
  const Compared& compared = report.compared;
  Others others(words);
  for (const auto& [what, retold] : compared.called) others.Add(retold, what);
  others.Add(compared.unsaid, "");
  std::string said = HowOften(words, now, then, span, compared.real) + others.Sentences();
  said += Longer(words, report);
  const int quietly = TallyOf(report.now).watch, before = TallyOf(report.then).watch;
  if (quietly != before)
    said += " " + words.Say("replay.quietly", {{"now", std::to_string(quietly)}, {"then", std::to_string(before)}});
  // Where nothing rang before, all that rings is new, and said.
  if (compared.fresh > 0 && then > 0)
    said += " " + words.Say("replay.fresh", {{"times", Times(words, compared.fresh)}});
  return said;
}

std::string RulesSentence(const Words& words, const ReplayReport& report, const rules::DayTurn& home) {
  if (report.other_rules.empty()) return {};
  std::string said;
  for (const RulesSpan& span : report.other_rules) {
    const bool begins = span.from > report.from, ends = span.until < report.to;
    const std::string when = begins && ends ? "between" : begins ? "since" : ends ? "until" : "throughout";
    said += words.Say("replay.rules." + when + (span.version ? "" : ".unsaid"),
                      {{"from", MinuteText(span.from, home)},
                       {"until", MinuteText(span.until, home)},
                       {"version", std::to_string(span.version.value_or(0))}}) +
            " ";
  }
  return said + words.Say("replay.rules.now", {{"version", std::to_string(rules::kRulesVersion)}});
}

}  // namespace rindwatch
