#include "rules/care/questions.hpp"

namespace rindwatch::rules {
namespace {

using std::chrono::days;

// The next part begins with an event that only the keeper can name.
std::optional<Question> StartQuestion(const Known& known, const Span& span, Date day) {
  const std::vector<Part>& parts = span.given->plan->parts;
  if (span.part + 1 >= parts.size()) return std::nullopt;
  const Part& next = parts[span.part + 1];
  if (known.starts.contains(next.start) || span.DayOfPart(day) < next.asked_from.value_or(0)) return std::nullopt;
  Question question;
  question.kind = Question::Kind::kStart;
  question.text = next.question;
  question.start = next.start;
  question.asked_from = span.start->day + days{next.asked_from.value_or(0)};
  return question;
}

std::optional<Question> BranchQuestion(const Span& span, Date day) {
  const std::optional<Branch>& branch = span.ThePart().branch;
  if (!branch || span.answered || span.DayOfPart(day) < branch->asked_from) return std::nullopt;
  Question question;
  question.kind = Question::Kind::kBranch;
  question.text = branch->question;
  for (const BranchOption& option : branch->options) question.options.push_back(option.name);
  question.asked_from = span.start->day + days{branch->asked_from};
  return question;
}

}  // namespace

std::vector<Question> QuestionsOn(const Known& known, const Timeline& timeline, Date day) {
  std::vector<Question> questions;
  const Span* span = timeline.SpanOn(day);
  if (!span) return questions;
  if (auto question = StartQuestion(known, *span, day)) questions.push_back(std::move(*question));
  if (auto question = BranchQuestion(*span, day)) questions.push_back(std::move(*question));
  return questions;
}

}  // namespace rindwatch::rules
