#include "daemon/watch/unseen.hpp"

#include <algorithm>
#include <boost/json.hpp>
#include <set>

#include "daemon/book/fields.hpp"
#include "daemon/watch/alarm_record.hpp"
#include "rules/alarms/version.hpp"

namespace rindwatch {

using rules::Alarm;
using rules::Decision;

namespace {

bool IsSame(const Alarm& one, const Alarm& other) {
  return one.kind == other.kind && one.cave == other.cave && one.probe == other.probe;
}

bool Holds(const std::vector<Alarm>& alarms, const std::string& id) {
  return std::ranges::find(alarms, id, &Alarm::id) != alarms.end();
}

bool Stands(const std::vector<Alarm>& alarms, const std::string& id) {
  const auto found = std::ranges::find(alarms, id, &Alarm::id);
  return found != alarms.end() && !found->over;
}

// Of what the book holds: who took it as it stood.
const Book::Taking* TakenAsItStood(const Book& book, const std::string& id) {
  const Book::Taking* taking = book.TakenBy(id);
  return taking && taking->asks_again ? nullptr : taking;
}

}  // namespace

bool StandsInBook(const Book& book, const std::string& alarm) {
  const auto found = book.AlarmRecords().find(alarm);
  const auto known = found == book.AlarmRecords().end() ? std::nullopt : MaybeAlarmFrom(found->second);
  return known && !known->over;
}

bool DecidedByTheseRules(const Book& book) {
  const auto& lines = book.Newest();
  const auto started =
      std::find_if(lines.rbegin(), lines.rend(), [](const auto& line) { return line.kind == "started"; });
  if (started == lines.rend()) return false;
  const boost::json::value body = boost::json::parse(started->body);
  return fields::MaybeWhole(body.as_object(), "rules") == std::int64_t{rules::kRulesVersion};
}

void DropWhatIsPast(const Book& book, const rules::EngineState& engine, std::vector<Decision>& decided) {
  const std::vector<Alarm> held = engine.Alarms();
  std::erase_if(decided, [&](const Decision& decision) {
    const std::string& id = decision.alarm.id;
    if (StandsInBook(book, id)) return decision.change != Decision::Change::kOver && !Holds(held, id);
    return !Holds(held, id) || (book.AlarmRecords().contains(id) && !Stands(held, id));
  });
}

std::vector<Decision> EndsOfUnseen(const Book& book, const rules::EngineState& engine,
                                   const std::vector<Decision>& decided, rules::Instant now) {
  std::vector<Alarm> standing = engine.Alarms();
  std::erase_if(standing, [](const Alarm& alarm) { return alarm.over.has_value(); });
  std::set<std::string> seen;
  for (const Alarm& alarm : standing) seen.insert(alarm.id);
  for (const Decision& decision : decided) {
    if (decision.change == Decision::Change::kOver) seen.insert(decision.alarm.id);
  }
  std::vector<Decision> ends;
  for (const auto& [id, record] : book.AlarmRecords()) {
    if (seen.contains(id) || !StandsInBook(book, id)) continue;
    Decision end{Decision::Change::kOver, now, AlarmFrom(record)};
    end.alarm.over = now;
    const auto same = std::ranges::find_if(standing, [&end](const Alarm& other) { return IsSame(other, end.alarm); });
    if (same != standing.end()) end.alarm.told_by = same->id;
    ends.push_back(std::move(end));
  }
  return ends;
}

std::vector<Follow> TakingsThatFollow(const Book& book, const rules::EngineState& engine) {
  std::vector<Follow> follows;
  for (const Alarm& now : engine.Alarms()) {
    // What the journal knows by this name, these rules raised.
    if (now.over || now.taken || book.TakenBy(now.id) || book.AlarmRecords().contains(now.id)) continue;
    for (const auto& [id, record] : book.AlarmRecords()) {
      const auto before = id == now.id ? std::nullopt : MaybeAlarmFrom(record);
      if (!before || !IsSame(*before, now) || before->severity < now.severity) continue;
      // What was over when this one was raised is another event.
      if (before->over && *before->over < now.raised) continue;
      const Book::Taking* taking = TakenAsItStood(book, id);
      if (!taking) continue;
      follows.push_back({now.id, id, taking->keeper});
      break;
    }
  }
  return follows;
}

}  // namespace rindwatch
