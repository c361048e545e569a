// The round: the cares due on a day, in the order in which a careful keeper walks them. Order is a control of hygiene:
// rind class first over all caves (or room by room), inside a class the caves in the keeper's order, in each young
// before old, inside an age group the boards as one walks; wheels with a mark last of all.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "rules/round/group.hpp"
#include "rules/round/late.hpp"
#include "rules/round/pace.hpp"

namespace rindwatch::rules {

// Wheels that are alike, and one care of theirs. Immutable once made.
struct RoundLine {
  RoundPlace place;
  LotId lot = 0;
  std::optional<FaultKind> mark;             // the gravest that was seen on any of its wheels
  bool held = false;                         // any of its wheels is
  bool marked = false;                       // last of the whole round
  int age_group = 0;                         // 0 to 2
  std::shared_ptr<const Schedule> schedule;  // of the first of its lives; alike in all that is shown
  const CareLine* care = nullptr;            // of `schedule`
  std::vector<RoundWheel> wheels;            // by number, then by id
  double seconds = 0;
  bool two_people = false;
  std::vector<LookFirst> look_first;
  std::optional<NewCadence> new_cadence;

  const Standing& TheStanding() const { return schedule->standing; }
  RindClass Rind() const { return schedule->standing.plan->rind; }
};
using RoundLinePtr = std::shared_ptr<const RoundLine>;

struct RoundQuestion {
  RoundPlace place;
  LotId lot = 0;
  bool marked = false;
  std::optional<FaultKind> mark;
  int age_group = 0;
  std::shared_ptr<const Schedule> schedule;
  const Question* question = nullptr;  // of `schedule`
  std::vector<RoundWheel> wheels;
};
using RoundQuestionPtr = std::shared_ptr<const RoundQuestion>;

// What is changed between two sections, in this order.
enum class Change { kGloves, kCloth, kWash, kBrush, kMask };
std::string_view ToText(Change change);
// Another cloth alone lies at hand.
bool TakesTime(const std::vector<Change>& change);

// What is worked with the same gloves, cloth and wash. Gloves and cloth are changed between rinds, and where a mark
// comes or another mark; a wash of younger wheels asks for new gloves, any other use of a cloth on younger ones for
// another cloth, which takes no time. A wash is mixed anew where it is named among the changes.
struct RoundSection {
  RindClass rind = RindClass::kFreshAndWhite;
  bool marked = false;
  std::vector<Change> change;       // before it; empty for the first
  std::chrono::seconds seconds{0};  // of the change
  const Wash* wash = nullptr;       // what its cloths are dipped into; null: nothing. Of its lines, or of those before
  bool left = false;                // holds a line that is due
  bool begun = false;               // holds one that is settled: the change before it lies behind
};

struct Round {
  Date day;
  struct Line {
    RoundLinePtr line;
    std::size_t section = 0;
  };
  struct Ask {
    RoundQuestionPtr question;
    std::size_t section = 0;
    std::size_t before = 0;  // the line before which it stands, whatever was settled; lines.size(): behind all
  };
  std::vector<RoundSection> sections;
  std::vector<Line> lines;     // due, late, settled and named once; in working order
  std::vector<Ask> questions;  // likewise

  // Of what is left, changes that are still to come counted in; summed as MinuteSum says.
  int Minutes() const;
  std::size_t Left() const;  // lines that are due or late
};

struct RoundHabits {
  bool by_room = false;  // finish one room before the next
  Pace pace;
};

using GroupId = std::uint64_t;

// Makes the round of a day from groups that come, change and go; what a change does not touch is not worked out again.
// The order of the calls makes no difference. One thread at a time.
class RoundMaker {  // NOLINT(cppcoreguidelines-special-member-functions): the one pointer cannot be copied
 public:
  RoundMaker(Date day, RoundHabits habits);
  ~RoundMaker();
  RoundMaker(RoundMaker&&) noexcept;
  RoundMaker& operator=(RoundMaker&&) noexcept;

  // A new group, or one that changed.
  void Put(GroupId id, RoundGroup group);
  void Drop(GroupId id);
  Round Make();

 private:
  struct Body;
  std::unique_ptr<Body> body_;
};

Round MakeRound(Date day, const RoundHabits& habits, std::vector<RoundGroup> groups);

}  // namespace rindwatch::rules
