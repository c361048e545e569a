#include <algorithm>
#include <map>
#include <unordered_map>

#include "rules/round/line_making.hpp"
#include "rules/round/order.hpp"
#include "rules/round/round.hpp"
#include "rules/round/sections.hpp"

namespace rindwatch::rules {

namespace {

// The groups that share a line, and the line once it was made.
template <typename Made>
struct Shared {
  std::vector<GroupId> groups;  // ascending: the order of the calls makes no difference
  Made made;                    // null: to be made anew

  void Add(GroupId id) {
    made = nullptr;
    groups.insert(std::ranges::lower_bound(groups, id), id);
  }
  // False once nobody is left.
  bool Remove(GroupId id) {
    made = nullptr;
    std::erase(groups, id);
    return !groups.empty();
  }
};

bool IsPutOff(const Question& question, const RoundGroup& group) {
  const std::string_view name = question.kind == Question::Kind::kStart ? ToText(question.start) : question.text;
  return std::ranges::find(group.put_off, name) != group.put_off.end();
}

using Lines = std::map<LineKey, Shared<RoundLinePtr>>;
using Questions = std::map<QuestionKey, Shared<RoundQuestionPtr>>;

}  // namespace

struct RoundMaker::Body {
  struct Held {
    RoundGroup group;
    std::vector<Lines::iterator> lines;
    std::vector<Questions::iterator> questions;
  };

  void Drop(GroupId id) {
    const auto found = groups.find(id);
    if (found == groups.end()) return;
    for (const auto line : found->second.lines) {
      if (!line->second.Remove(id)) lines.erase(line);
    }
    for (const auto question : found->second.questions) {
      if (!question->second.Remove(id)) questions.erase(question);
    }
    groups.erase(found);
  }

  void Put(GroupId id, RoundGroup group) {
    Drop(id);
    Held held{std::move(group), {}, {}};
    const std::shared_ptr<const Schedule> schedule = held.group.schedule;
    const WayPoint walk = WayPointOf(held.group, habits.by_room);
    for (const CareLine& care : schedule->lines) {
      if (!IsShown(care)) continue;
      const auto line = lines.try_emplace(LineKey{walk, schedule, &care}).first;
      // Two lines of one wheel that read alike are one.
      if (std::ranges::find(held.lines, line) != held.lines.end()) continue;
      line->second.Add(id);
      held.lines.push_back(line);
    }
    for (const Question& question : schedule->questions) {
      if (IsPutOff(question, held.group)) continue;
      const auto asked = questions.try_emplace(QuestionKey{walk, schedule, &question}).first;
      if (std::ranges::find(held.questions, asked) != held.questions.end()) continue;
      asked->second.Add(id);
      held.questions.push_back(asked);
    }
    groups.emplace(id, std::move(held));
  }

  std::vector<const RoundGroup*> GroupsOf(const std::vector<GroupId>& ids) const {
    std::vector<const RoundGroup*> found;
    found.reserve(ids.size());
    for (const GroupId id : ids) found.push_back(&groups.at(id).group);
    return found;
  }

  Date day;
  RoundHabits habits;
  Lines lines;
  Questions questions;
  std::unordered_map<GroupId, Held> groups;
};

RoundMaker::RoundMaker(Date day, RoundHabits habits)
    : body_(std::make_unique<Body>(Body{day, std::move(habits), {}, {}, {}})) {}
RoundMaker::~RoundMaker() = default;
RoundMaker::RoundMaker(RoundMaker&&) noexcept = default;
RoundMaker& RoundMaker::operator=(RoundMaker&&) noexcept = default;

void RoundMaker::Put(GroupId id, RoundGroup group) { body_->Put(id, std::move(group)); }
void RoundMaker::Drop(GroupId id) { body_->Drop(id); }

Round RoundMaker::Make() {
  Round round;
  round.day = body_->day;
  round.lines.reserve(body_->lines.size());
  Divider divider(round.sections);
  auto ask = body_->questions.begin();
  const auto ask_until = [&](const WayPoint* walk) {
    for (; ask != body_->questions.end() && (walk == nullptr || !(*walk < ask->first.walk)); ++ask) {
      auto& made = ask->second.made;
      if (!made) made = MakeQuestion(ask->first, body_->GroupsOf(ask->second.groups));
      round.questions.push_back({made, divider.Of(*made), round.lines.size()});
    }
  };
  for (auto& [key, shared] : body_->lines) {
    // A question stands before the lines of its place.
    ask_until(&key.walk);
    if (!shared.made) shared.made = MakeLine(key, body_->GroupsOf(shared.groups), round.day, body_->habits.pace);
    const std::size_t section = divider.Of(*shared.made);
    round.lines.push_back({shared.made, section});
    round.sections[section].left |= key.care->OnRound();
    round.sections[section].begun |= key.care->Settled();
  }
  ask_until(nullptr);
  return round;
}

}  // namespace rindwatch::rules
