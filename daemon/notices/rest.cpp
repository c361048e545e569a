// What a letter says when it goes, and until when it may rest.
#include <algorithm>
#include <iterator>

#include "daemon/api/alarm_past.hpp"
#include "daemon/notices/notices.hpp"
#include "daemon/notices/rows.hpp"

namespace rindwatch {

using rules::Instant;

namespace {

// A list that is older says what stood then as if it stood now.
constexpr rules::Millis kListStands = std::chrono::hours{1};

bool IsList(const NoticeRow& row) { return row.kind == "morning" || row.kind == "evening"; }

// What tells of no alarm says nothing of how anything stands now: all that was written, one after the other.
Letter OfAll(const Words& words, const std::vector<const NoticeRow*>& rows) {
  Letter all = LetterFrom(rows.front()->letter);
  if (rows.size() == 1) return all;
  all.subject = words.Count("notice.several", rows.size() - 1, {{"alarm", all.subject}});
  for (const NoticeRow* row : rows) {
    if (row == rows.front()) continue;
    // Of links the last one's.
    std::erase_if(all.blocks, [](const Letter::Block& block) { return block.kind == Letter::Block::Kind::kLink; });
    std::ranges::move(LetterFrom(row->letter).blocks, std::back_inserter(all.blocks));
  }
  return all;
}

}  // namespace

Letter Notices::LetterOf(const std::vector<const NoticeRow*>& rows) {
  const bool late = context_.now() - rows.front()->made_at > NoticeQueue::kFresh;
  const bool of_alarm = std::ranges::any_of(rows, [](const NoticeRow* row) { return !row->alarm.empty(); });
  if (IsList(*rows.front()) && context_.now() - rows.front()->made_at >= kListStands) return ListAnew(*rows.front());
  if (!of_alarm) return OfAll(context_.words, rows);
  if (rows.size() == 1 && !late) return LetterFrom(rows.front()->letter);
  Asking();  // how they stand now
  std::vector<Letters::Told> told;
  for (const NoticeRow* row : rows) {
    const bool waited = context_.now() - row->asked >= rules::kNextKeeperAfter;
    told.push_back({row->kind, LetterFrom(row->letter).subject, AlarmOf(row->alarm), waited});
  }
  Letter letter = letters_.OfSeveral(told, late);
  letter.as_of = (*std::ranges::max_element(rows, {}, &NoticeRow::made_at))->made_at;
  return letter;
}

// Of the same day, for the same reader.
Letter Notices::ListAnew(const NoticeRow& row) const {
  const std::vector<Hearing> hearings = context_.book().Hearings();
  const auto hearing = std::ranges::find(hearings, row.hearer, &Hearing::Name);
  if (hearing == hearings.end()) return LetterFrom(row.letter);
  const bool evening = row.kind == "evening";
  Letter letter = letters_.OfRound(evening, ToldUntil(hearing->reader, evening));
  letter.as_of = context_.now();
  return letter;
}

// At its hour a list goes, be that a quiet one; what comes late does not go into quiet hours.
std::optional<Instant> Notices::ListRestsUntil(const Hearing& hearing, const NoticeRow& row) const {
  const rules::DayTurn& home = context_.book().Home();
  const rules::ListReader& reader = hearing.reader;
  const auto until = rules::QuietUntil(reader.hearer, home.zone, context_.now());
  if (!until || context_.now() - row.made_at >= kListStands) return until;
  const auto hour = row.kind == "evening" && reader.evening ? *reader.evening : reader.morning;
  const Instant asked_for = home.zone.FirstInstantAtOrAfter(rules::LocalTime{home.DayOf(context_.now())} + hour);
  return rules::QuietUntil(reader.hearer, home.zone, asked_for) ? std::nullopt : until;
}

std::optional<Instant> Notices::RestsUntil(const std::vector<const NoticeRow*>& rows) {
  const std::vector<Hearing> hearings = context_.book().Hearings();
  const auto hearing = std::ranges::find(hearings, rows.front()->hearer, &Hearing::Name);
  if (hearing == hearings.end()) return std::nullopt;
  if (IsList(*rows.front())) return ListRestsUntil(*hearing, *rows.front());
  const auto quiet_at = [&](Instant at) {
    return rules::QuietUntil(hearing->reader.hearer, context_.book().Home().zone, at);
  };
  const auto until = quiet_at(context_.now());
  const bool rest = std::ranges::all_of(rows, [&](const NoticeRow* row) {
    const rules::Alarm* alarm = AlarmOf(row->alarm);
    // Who was called in these hours waits for the end of it.
    const bool called = std::ranges::none_of(rows, [row](const NoticeRow* other) {
      return other->alarm == row->alarm && other->kind == rules::ToText(rules::NoticeKind::kRings);
    });
    const bool awaited =
        called && row->kind == rules::ToText(rules::NoticeKind::kOver) && quiet_at(row->made_at) == until;
    // What nobody judges any more may be as it was.
    const bool ended = alarm && alarm->over && !alarm->Unjudged() && !EndedUnseen(context_.book(), alarm->id);
    return ended && alarm->severity != rules::Severity::kUrgent && !awaited;
  });
  // By then it is told that it is over, and both go as one.
  return until && rest ? std::optional(*until + kTogether) : std::nullopt;
}

}  // namespace rindwatch
