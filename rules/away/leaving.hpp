// A wheel whose keeper goes away: how it is left, and what a helper may do for it meanwhile. Pure.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "rules/away/visits.hpp"
#include "rules/care/schedule.hpp"

namespace rindwatch::rules {

// A helper turns, wipes and looks: no washing, scraping, cutting or tasting.
bool IsForHelper(CareKind kind);

// How a life is left: `wheel` with everything that the keeper does until the last evening.
struct Left {
  WheelHistory wheel;
  CareCalendar calendar;         // without the absence that is planned: in it nothing would be asked
  Date last_day;                 // on which the keeper is there; nobody knows what comes after it
  std::vector<CareLine> before;  // what is done on that day: what is due, and early what cannot wait
};

// The keeper does every line of the rounds from `now` on and, on the last day, also what may be done early and would be
// late before the return. Questions stay open, since only the hand can tell. The last day is that before `from`, or
// today if that is later; a keeper who is away already does nothing more.
Left LeaveAlone(WheelHistory wheel, CareCalendar calendar, Instant now, Date from, Date back);

// What a left life asks of a helper, window by window. `left` must outlive it.
class HelperLane final : public VisitLane {
 public:
  explicit HelperLane(const Left& left);
  HelperLane(const HelperLane&) = delete;
  HelperLane& operator=(const HelperLane&) = delete;
  ~HelperLane() override;

  VisitWindow WindowAfter(const std::vector<Date>& done) override;
  std::vector<int> KeyOf(const std::vector<Date>& done) override;
  // What the helper does on the last of the days; empty for no day.
  std::vector<CareKind> DoneOn(const std::vector<Date>& done);
  // What is asked next, as the window after these days has it: the whole line, the part of the helper last.
  std::vector<CareKind> AskedAfter(const std::vector<Date>& done);
  // Where the wheel stands on a day, no question answered.
  Standing StandingOn(Date day) const;

 private:
  struct Lived;
  const Lived& After(const std::vector<Date>& done);

  const Left& left_;
  std::map<std::vector<Date>, std::unique_ptr<Lived>> lived_;
};

// What it comes to when nobody visits (common practice, no source).
enum class Harm { kSlime, kSticks, kDries, kCracks, kLate };
std::string_view ToText(Harm harm);  // "slime"
// By the rind, how far it is, whether it lies in a box, and how many windows pass: one alone harms no rind.
Harm HarmOf(RindClass rind, WheelState state, bool in_box, int misses);

}  // namespace rindwatch::rules
