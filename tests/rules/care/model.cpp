#include "tests/rules/care/model.hpp"

#include <algorithm>

#include "rules/plans/kinds.hpp"
#include "tests/rules/care/model_counts.hpp"

namespace rindwatch::rules::testing {
namespace {

using std::chrono::days;

constexpr days kDay{1};

bool OnRound(const ModelLine& line) { return line.state == CareState::kDue || line.state == CareState::kLate; }

ModelLine PendingLine(const ModelCount& count) {
  ModelLine line;
  line.kinds = {count.kind};
  line.state = count.state;
  line.opens = count.opens;
  line.due = count.due;
  line.window_end = count.end;
  line.away = count.away;
  line.evening = count.evening;
  line.not_before = count.not_before;
  return line;
}

void AddSettled(const ModelCount& count, std::vector<ModelLine>& lines) {
  for (const ModelDeed& deed : count.settled) {
    ModelLine line;
    line.kinds = {deed.kind};
    line.state = deed.skip ? CareState::kSkipped : CareState::kDone;
    line.settled_by = deed.id;
    lines.push_back(std::move(line));
  }
}

// A pending line with what its care brings.
struct Asked {
  ModelLine line;
  std::vector<CareKind> brings;
};

void ShowPart(const ModelLife& life, CareKind kind, ModelLine& line) {
  bool done = false, skipped = false;
  for (const ModelDeed& deed : life.deeds) {
    if (deed.kind != kind || deed.day != life.today) continue;
    (deed.skip ? skipped : done) = true;
  }
  if (done) {
    line.done_kinds.push_back(kind);
  } else if (skipped) {
    line.skipped_kinds.push_back(kind);
  }
}

// Lines of one stage that come as one.
void BringTogether(const ModelLife& life, std::vector<Asked>& lines) {
  std::vector<CareKind> brought;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!OnRound(lines[i].line)) continue;
    for (const CareKind kind : lines[i].brings) {
      if (Contains(brought, kind)) continue;
      brought.push_back(kind);
      ModelLine line = lines[i].line;
      line.kinds.push_back(kind);
      bool asked_itself = false;
      for (std::size_t j = lines.size(); j-- > 0;) {
        const ModelLine other = lines[j].line;
        if (j == i || other.agreed || other.kinds.front() != kind) continue;
        if (OnRound(other)) {
          asked_itself = true;
          if (other.state == CareState::kLate) line.state = CareState::kLate;
          line.due = std::min(line.due, other.due);
          line.away |= other.away;
        }
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(j));
        if (j < i) --i;
      }
      if (!asked_itself) ShowPart(life, kind, line);
      lines[i].line = line;
    }
  }
}

// The next day on which a stage holds; none: none is to come.
std::optional<Date> NextWithStage(const ModelLife& life, Date day) {
  for (day += kDay; day <= life.dates.back().date; day += kDay) {
    if (life.On(day).stage) return day;
  }
  return std::nullopt;
}

// The same once care is asked still.
bool GoesOn(const ModelLife& life, const Care& care, Date last, Date next) {
  for (Date day = last + kDay; day < next; day += kDay) {
    if (!life.IsDayZero(day)) return false;
  }
  return life.SameCareOn(next, care) && life.On(last).part_start == life.On(next).part_start;
}

// What a stage left behind whose last day this is: the once cares that are still open, and of what was on the round,
// with what it would have brought, the kinds that the next stage does not have.
void AddLeftBehind(const ModelLife& life, Date last, std::vector<ModelLine>& lines) {
  const std::optional<Date> next = NextWithStage(life, last);
  // A day 0 belongs to the stage before it.
  const Instant until = std::min(life.asked, life.On(life.PastDayZero(last + kDay)).begins - Millis{1});
  const auto goes_on = [&](CareKind kind) {
    return next && std::ranges::any_of(life.On(*next).stage->cares, [&](const Care& care) {
             return Contains(care.kinds, kind) || Contains(care.brings, kind);
           });
  };
  const auto add = [&](CareKind kind, CareState state, Date due) {
    ModelLine line;
    line.kinds = {kind};
    line.state = state;
    line.due = due;
    lines.push_back(std::move(line));
  };
  for (const Care& care : life.On(last).stage->cares) {
    const ModelCount count = CountCare(life, care, last, until);
    if (!count.OnRound()) continue;
    if (std::holds_alternative<OnceOnDay>(care.cadence)) {
      if (!next || !GoesOn(life, care, last, *next)) add(count.kind, CareState::kNotDone, count.due);
      continue;
    }
    if (!goes_on(count.kind)) add(count.kind, CareState::kRetired, count.due);
    for (const CareKind kind : care.brings) {
      if (!goes_on(kind)) add(kind, CareState::kRetired, count.due);
    }
  }
}

// Named once, on the first day of the next stage.
void AddNamedOnce(const ModelLife& life, std::vector<ModelLine>& lines) {
  Date last = life.today - kDay;
  while (last > life.dates.front().date && !life.On(last).stage) last -= kDay;
  if (last < life.entry || !life.On(last).stage || life.On(last).stage == life.On(life.today).stage) return;
  AddLeftBehind(life, last, lines);
}

void AddLines(const ModelLife& life, std::vector<ModelLine>& lines) {
  const ModelDay& today = life.On(life.today);
  const Stage* stage = life.StageOfActs(life.today);
  const std::vector<Care> none;
  const std::vector<Care>& cares = stage ? stage->cares : none;
  std::vector<Asked> pending;
  for (const Care& care : cares) {
    const ModelCount count = CountCare(life, care, life.today, life.asked);
    AddSettled(count, lines);
    if (count.asked && today.stage) pending.push_back({PendingLine(count), care.brings});
  }
  for (const ModelAgreed& agreed : life.agreed) {
    const ModelCount count = CountAgreed(life, agreed, life.today, life.asked);
    AddSettled(count, lines);
    if (!count.asked) continue;
    pending.push_back({PendingLine(count), {}});
    pending.back().line.agreed = true;
    for (const Care& care : cares) {
      if (Contains(care.kinds, count.kind) && pending.back().brings.empty()) pending.back().brings = care.brings;
    }
  }
  BringTogether(life, pending);
  for (Asked& one : pending) lines.push_back(std::move(one.line));
  if (today.stage) AddNamedOnce(life, lines);
}

void AddQuestions(const ModelLife& life, std::vector<std::string>& questions) {
  const ModelDay& today = life.On(life.today);
  if (today.part < 0) return;
  const std::vector<Part>& parts = today.given->plan->parts;
  const auto part = static_cast<std::size_t>(today.part);
  const int n = static_cast<int>((today.date - today.part_start).count());
  if (part + 1 < parts.size()) {
    const Part& next = parts[part + 1];
    if (!life.IsAnswered(next.start) && n >= next.asked_from.value_or(0)) questions.push_back(next.question);
  }
  const std::optional<Branch>& branch = parts[part].branch;
  if (branch && !today.answered && n >= branch->asked_from) questions.push_back(branch->question);
}

}  // namespace

ModelAnswer AskModel(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  const ModelLife life(wheel, calendar, asked);
  const ModelDay& today = life.On(life.today);
  ModelAnswer answer;
  answer.gone = wheel.gone && *wheel.gone <= asked;
  answer.stage = today.stage;
  answer.stage_of_acts = life.StageOfActs(life.today);
  if (today.part >= 0) {
    answer.part = static_cast<std::size_t>(today.part);
    answer.option = today.option;
    answer.day = static_cast<int>((today.date - today.part_start).count());
    const std::vector<Part>& parts = today.given->plan->parts;
    const std::optional<int> end = RoadOf(parts[answer.part], today.option).back()->last_day;
    answer.past_plan = answer.part + 1 == parts.size() && end && answer.day > *end;
  }
  if (answer.gone) return answer;
  AddLines(life, answer.lines);
  AddQuestions(life, answer.questions);
  return answer;
}

std::vector<ModelLine> AskModelNotDone(const WheelHistory& wheel, const CareCalendar& calendar, Instant asked) {
  const ModelLife life(wheel, calendar, asked);
  std::vector<ModelLine> lines;
  for (Date day = life.entry; day < life.today; day += kDay) {
    if (life.On(day).stage && life.On(day).stage != life.On(day + kDay).stage) AddLeftBehind(life, day, lines);
  }
  std::erase_if(lines, [](const ModelLine& line) { return line.state != CareState::kNotDone; });
  return lines;
}

}  // namespace rindwatch::rules::testing
