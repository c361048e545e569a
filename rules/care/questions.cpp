#include "rules/care/questions.hpp"

#include <algorithm>

#include "rules/care/cadence.hpp"
#include "rules/plans/kinds.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

const Part* NextPart(const Span& span) {
  const std::vector<Part>& parts = span.given->plan->parts;
  return span.part + 1 < parts.size() ? &parts[span.part + 1] : nullptr;
}

// The last day, tolerance and all, of what the road asks once of a kind; none: it never asks.
std::optional<Date> LastAsked(const Span& span, CareKind kind) {
  std::optional<Date> last;
  const Road road = span.TheRoad();
  for (std::size_t i = 0; i < road.Size(); ++i) {
    for (const Care& care : road[i].cares) {
      const auto* once = std::get_if<OnceOnDay>(&care.cadence);
      if (!once || !Contains(care.kinds, kind)) continue;
      const Date day = span.start->day + days{once->day + ToleranceOf(care)};
      last = std::max(last.value_or(day), day);
    }
  }
  return last;
}

Date StartAskedFrom(const Span& span, const Part& next) {
  const auto kind = BegunBy(next);
  if (!kind) return span.start->day + days{next.asked_from.value_or(0)};
  return LastAsked(span, *kind).value_or(span.start->day) + days{1};
}

Date BranchAskedFrom(const Span& span, const Branch& branch) { return span.start->day + days{branch.asked_from}; }

// The next part begins with an event that only the keeper can name.
std::optional<Question> StartQuestion(const Known& known, const Span& span, Date day, KindSet waiting) {
  const Part* next = NextPart(span);
  if (next == nullptr || known.StartOf(next->start) != nullptr) return std::nullopt;
  const auto kind = BegunBy(*next);
  if (day < StartAskedFrom(span, *next) || (kind && waiting.Has(*kind))) return std::nullopt;
  Question question;
  question.kind = Question::Kind::kStart;
  question.text = next->question;
  question.start = next->start;
  question.asked_from = StartAskedFrom(span, *next);
  return question;
}

std::optional<Question> BranchQuestion(const Span& span, Date day) {
  const std::optional<Branch>& branch = span.ThePart().branch;
  if (!branch.has_value() || span.answered || day < BranchAskedFrom(span, *branch)) return std::nullopt;
  Question question;
  question.kind = Question::Kind::kBranch;
  question.text = branch->question;
  for (const BranchOption& option : branch->options) question.options.push_back(option.name);
  question.asked_from = BranchAskedFrom(span, *branch);
  return question;
}

}  // namespace

const Part* PartAfter(const Timeline& timeline, Date day) {
  const Span* span = timeline.SpanOn(day);
  return span ? NextPart(*span) : nullptr;
}

std::vector<Question> QuestionsOn(const Known& known, const Timeline& timeline, Date day, KindSet waiting) {
  std::vector<Question> questions;
  const Span* span = timeline.SpanOn(day);
  if (!span) return questions;
  if (auto question = StartQuestion(known, *span, day, waiting)) questions.push_back(std::move(*question));
  if (auto question = BranchQuestion(*span, day)) questions.push_back(std::move(*question));
  return questions;
}

std::vector<Date> QuestionDays(const Timeline& timeline, Date day) {
  std::vector<Date> asked;
  const Span* span = timeline.SpanOn(day);
  if (!span) return asked;
  if (const Part* next = NextPart(*span)) asked.push_back(StartAskedFrom(*span, *next));
  if (const auto& branch = span->ThePart().branch) asked.push_back(BranchAskedFrom(*span, *branch));
  return asked;
}

}  // namespace rindwatch::rules
