#include "rules/care/walk.hpp"

#include <algorithm>
#include <iterator>

#include "rules/care/lines.hpp"
#include "rules/care/questions.hpp"

namespace rindwatch::rules {

Walk::Walk(const WheelHistory& wheel, const CareCalendar& calendar, Instant known_at)
    : ground_(wheel, calendar, known_at), gone_(wheel.gone) {}

bool Walk::IsGone() const { return gone_ && *gone_ <= ground_.asked; }

void Walk::GoTo(Instant at) {
  ground_.GoTo(at);
  Look();
}

void Walk::Look() {
  const std::vector<Segment>& segments = ground_.timeline.Segments();
  const std::size_t index = ground_.timeline.IndexAtOrAfter(ground_.today);
  items_.clear();
  if (IsGone()) return;
  if (index < segments.size() && segments[index].first <= ground_.today) {
    if (!stage_ || index_ != index) stage_.emplace(ground_, index);
    index_ = index;
    items_ = stage_->At(ground_.Now());
  } else {
    stage_.reset();  // on a day 0 nothing is asked
  }
  std::ranges::move(AgreedItems(ground_, items_), std::back_inserter(items_));
}

void Walk::Recount() {
  ground_.Recount();
  stage_.reset();
  Look();
}

bool Walk::AsksAnything() const {
  return std::ranges::any_of(items_,
                             [](const Item& item) { return item.verdict.pending && item.verdict.pending->OnRound(); });
}

std::vector<CareLine> Walk::Lines() const { return LinesOf(ground_, items_); }

std::vector<Question> Walk::Questions() const {
  return IsGone() ? std::vector<Question>{}
                  : QuestionsOn(ground_.known, ground_.timeline, ground_.today, WaitingKinds(items_));
}

bool Walk::IsSettledUntil(CareKind kind, Instant until) const {
  const std::vector<Deed>& deeds = ground_.deeds.list;
  auto deed = std::ranges::upper_bound(deeds, ground_.asked, {}, &Deed::at);
  for (; deed != deeds.end() && deed->at < until; ++deed) {
    if (deed->kind == kind) return true;
  }
  return false;
}

Instant Walk::NextChange() const {
  Date next = kForEver;
  Instant hour = Instant::max();
  const auto consider = [&](Date day) {
    if (day > ground_.today) next = std::min(next, day);
  };
  for (const Item& item : items_) {
    const std::optional<Pending>& pending = item.verdict.pending;
    if (!pending || pending->OnRound()) continue;
    if (pending->not_before && *pending->not_before > ground_.asked) {
      hour = std::min(hour, *pending->not_before);
    } else {
      consider(std::max(pending->due, ground_.today + std::chrono::days{1}));
    }
  }
  for (const Date day : QuestionDays(ground_.timeline, ground_.today)) consider(day);
  for (const Segment& segment : ground_.timeline.Segments()) consider(segment.first);
  return next == kForEver ? hour : std::min(hour, ground_.turn.StartOf(next));
}

void Walk::Do(KindSet kinds) {
  CareAct& act = acts_.emplace_back();
  act.at = act.known_from = ground_.asked;
  act.done = kinds;
  auto& known = ground_.known.acts;
  known.insert(std::ranges::upper_bound(known, act.at, {}, [](const CareAct* other) { return other->at; }), &act);
  if (MayBegin(kinds) || !ground_.known.agreed.empty()) return Recount();
  AddAct(act, ground_.today, ground_.timeline, ground_.deeds);
  Look();
}

bool Walk::MayBegin(KindSet kinds) const {
  const Part* next = PartAfter(ground_.timeline, ground_.today);
  const auto kind = next ? BegunBy(*next) : std::nullopt;
  return kind && kinds.Has(*kind);
}

void Walk::Answer(const Question& question) {
  if (question.kind == Question::Kind::kStart) {
    starts_.push_back({{}, question.start, ground_.today, ground_.asked, false});
    ground_.known.StartOf(question.start) = &starts_.back();
  } else {
    const Span* span = ground_.timeline.SpanOn(ground_.today);
    if (!span || !span->option) return;  // the answer before ended the part
    answers_.push_back({{}, span->option->name, ground_.asked});
    ground_.known.answers.push_back(&answers_.back());
  }
  Recount();
}

}  // namespace rindwatch::rules
