// A clock that was set forward while we ran, or a machine that slept: kept as a line of the journal, and told once to
// whoever hears of what is a watch.
#include "daemon/api/leaps.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daemon/notices/notices.hpp"
#include "rules/notices/who_hears.hpp"

namespace rindwatch {

using rules::Instant;

namespace {

constexpr rules::Millis kWriteAgainAfter = std::chrono::minutes{1};

// The timer of its own by which it is written again.
std::string RetryOf(const Leap& leap) { return fmt::format("leap {}", ToMillis(leap.to)); }

Letter LeapLetter(const ApiContext& context, const std::string& page, const Leap& leap) {
  const Words& words = context.words;
  const std::string said = words.Say("notice.leap", {{"span", LeapSpan(words, leap)}});
  Letter letter;
  letter.kind = "leapt";
  letter.subject = context.trial ? words.Say("notice.trial", {{"subject", said}}) : said;
  letter.Head(said).Text(LeapTrouble(context, leap)).Link(words.Say("notice.round"), page + "/round");
  return letter;
}

}  // namespace

void Notices::ShowClock(Instant wall, rules::Millis monotonic) {
  // One that was wrong is only put right.
  const bool leapt = leaps_.Look(wall, monotonic, !context_.broker || context_.broker->IsClockKnown());
  if (const auto leap = leapt ? leaps_.Told(wall) : std::nullopt) KeepLeap(*leap);
}

void Notices::KeepLeap(const Leap& leap) {
  context_.store.Append(LeapLine(leap), {}, [this, leap](const AppendResult& result) {
    if (stopped_ || result.kind != AppendResult::Kind::kRefused) return;
    unwritten_leaps_.push_back(leap);
    scheduler_.WakeAt(RetryOf(leap), context_.now() + kWriteAgainAfter, [this, leap] { KeepLeap(leap); });
  });
  ReviewSoon();
}

void Notices::RecallLeaps() {
  for (const Leap& leap : LeapsIn(context_.book())) leaps_.Recall(leap);
}

void Notices::ForgetLeaps() {
  for (const Leap& leap : unwritten_leaps_) scheduler_.Forget(RetryOf(leap));
}

// Of each a letter, the first one first: who was asleep hears of all of them.
std::optional<Instant> Notices::ReviewLeaps(const std::vector<Hearing>& hearings) {
  std::optional<Instant> next;
  const std::vector<Leap> leaps = leaps_.AllTold(context_.now());
  for (const Leap& leap : leaps) {
    const auto due = ReviewLeap(leap, hearings);
    if (due) next = std::min(next.value_or(*due), *due);
  }
  return next;
}

std::optional<Instant> Notices::ReviewLeap(const Leap& leap, const std::vector<Hearing>& hearings) {
  const rules::DayTurn& home = context_.book().Home();
  const rules::Date today = home.DayOf(context_.now());
  std::vector<rules::Hearer> hearers;
  hearers.reserve(hearings.size());
  for (const Hearing& hearing : hearings) hearers.push_back(hearing.reader.hearer);
  const auto hear = rules::WhoHears(hearers, rules::Severity::kWatch, today, rules::AllAway::kEach);
  std::optional<Instant> next;
  // Who comes back hears of it too, as long as it is told.
  if (hear.size() < hearings.size()) next = home.EndOf(today);
  for (const rules::Hearer* hearer : hear) {
    if (told_leaps_.contains({hearer->name, leap.to})) continue;
    if (const auto until = rules::QuietUntil(*hearer, home.zone, context_.now())) {
      next = std::min(next.value_or(*until), *until);
      continue;
    }
    told_leaps_.insert({hearer->name, leap.to});
    NoticeRow row;
    row.kind = "leapt";
    row.key = fmt::format("leapt {} | {}", ToMillis(leap.to), hearer->name);
    row.asked = leap.to;
    Say(*std::ranges::find(hearings, hearer->name, &Hearing::Name), std::move(row),
        LeapLetter(context_, ways_.page, leap));
  }
  return next;
}

}  // namespace rindwatch
