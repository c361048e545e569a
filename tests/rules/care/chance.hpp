// Plans, keepers and calendars by chance, from a fixed seed.
#pragma once

#include <random>

#include "tests/rules/care/wheel.hpp"

namespace rindwatch::rules::testing {

class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}

  int Between(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  bool OneIn(int n) { return Between(1, n) == 1; }
  template <typename T>
  const T& OneOf(const std::vector<T>& values) {
    return values[static_cast<std::size_t>(Between(0, static_cast<int>(values.size()) - 1))];
  }
  template <typename T>
  void Shuffle(std::vector<T>& values) {
    std::shuffle(values.begin(), values.end(), random_);
  }

  // Sound by the reader's own checks; `parts` at most.
  Plan MakePlan(int parts = 2) {
    Plan plan = PlanOf(MakeStages(OneIn(4) ? 0 : 1, Between(1, 3), OneIn(2)));
    if (OneIn(2)) AddBranch(plan);
    if (parts > 1 && OneIn(2)) {
      plan = WithPart(std::move(plan), StartKind::kEnteredBox, Between(0, 9), MakeStages(1, Between(1, 2), true));
    }
    return plan;
  }

  // `whole_days`: every date has a morning and an evening.
  Zone MakeZone(bool whole_days) {
    const auto at = [](int day, int hour) { return Instant{(Day(day) + hours{hour}).time_since_epoch()}; };
    switch (Between(0, whole_days ? 3 : 4)) {
      case 0:
        return Zone{};
      case 1:
        return {"an hour", hours{1}, {{at(20, 1), hours{2}}, {at(45, 1), hours{1}}}};
      case 2:
        return {"half an hour", minutes{630}, {{at(9, 16), hours{11}}, {at(33, 15), minutes{630}}}};
      case 3:  // 00:00 is skipped once, and comes twice the other time
        return {"midnight", hours{-3}, {{at(12, 3), hours{-2}}, {at(40, 2), hours{-3}}}};
      default:
        return {"date line", hours{-10}, {{at(14, 10), hours{14}}}};
    }
  }

  // Acts of a keeper who comes on most days, late or early, twice, or not at all, and does whatever kinds he likes.
  void Live(Wheel& wheel, int days_long) {
    for (int day = 0; day <= days_long; ++day) {
      for (int visit = OneIn(3) ? 0 : Between(1, 2); visit > 0; --visit) {
        std::vector<CareKind> done, skipped;
        for (const CareKind kind : {kTurn, kWash, kBrush, kPat, kSalt, kPierce}) {
          if (OneIn(3)) (OneIn(5) ? skipped : done).push_back(kind);
        }
        const ActId id = wheel.Act(wheel.At(day, Between(4, 27), Between(0, 59)), done, skipped);
        if (OneIn(10)) wheel.Undo(id, day + 1);
        if (OneIn(10)) wheel.History().acts.back().known_from = wheel.At(day + Between(1, 4), 12);
      }
    }
  }

  void SetCave(Wheel& wheel, bool away, bool whole_days = false) {
    wheel.Calendar().turn = {MakeZone(whole_days), Between(0, 5)};
    for (unsigned weekday = 1; weekday <= 7; ++weekday) {
      if (OneIn(4)) wheel.Calendar().care_days.insert(weekday);
    }
    for (int i = away ? Between(0, 3) : 0; i > 0; --i) {
      const int first = Between(1, 50);
      wheel.Away(first, first + Between(0, 8));
    }
  }

 private:
  Care MakeCare(std::vector<CareKind>& free, int first, int last) {
    Care care;
    care.kinds = {Take(free)};
    care.source = "invented";
    const auto length = Between(0, 5);
    if (length <= 1) {
      care.cadence = EveryDays{Between(1, 12)};
    } else if (length <= 3) {
      care.cadence = TimesAWeek{Between(1, 7)};
    } else if (length == 4) {
      care.cadence = MorningAndEvening{};
    } else {
      care.cadence = OnceOnDay{Between(first, last)};
    }
    const bool counts_days = length <= 3;
    if (counts_days && OneIn(5) && !free.empty()) care.kinds.push_back(Take(free));
    return care;
  }

  CareKind Take(std::vector<CareKind>& free) {
    const auto at = free.begin() + Between(0, static_cast<int>(free.size()) - 1);
    const CareKind kind = *at;
    free.erase(at);
    return kind;
  }

  Stage MakeStage(int first, std::optional<int> last) {
    std::vector<CareKind> free{kTurn, kWash, kBrush, kPat, kSalt, kPierce};
    std::vector<Care> cares;
    for (int i = Between(0, 3); i > 0; --i) cares.push_back(MakeCare(free, first, last.value_or(first + 20)));
    if (cares.size() >= 2 && OneIn(2)) cares[0].brings = {cares[1].kinds[0]};
    if (cares.size() == 1 && OneIn(2)) cares[0].brings = {Take(free)};
    return StageOf(first, last, std::move(cares));
  }

  std::vector<Stage> MakeStages(int first, int count, bool ends) {
    std::vector<Stage> stages;
    for (int i = 0; i < count; ++i) {
      const int last = first + Between(0, 15);
      stages.push_back(MakeStage(first, i + 1 < count || ends ? std::optional{last} : std::nullopt));
      // The same cares may run on.
      if (i > 0 && OneIn(3)) RepeatCares(stages[stages.size() - 2], stages.back());
      first = last + 1;
    }
    return stages;
  }

  static void RepeatCares(const Stage& from, Stage& to) {
    to.cares = from.cares;
    std::erase_if(to.cares, [](const Care& care) { return std::holds_alternative<OnceOnDay>(care.cadence); });
  }

  void AddBranch(Plan& plan) {
    Stage& shared = plan.parts[0].stages.back();
    if (!shared.last_day) shared.last_day = shared.first_day + 20;
    for (Care& care : shared.cares) {
      if (auto* once = std::get_if<OnceOnDay>(&care.cadence)) once->day = shared.first_day;
    }
    const int next = *shared.last_day + 1;
    plan = WithBranch(std::move(plan), Between(0, next),
                      {{"on", MakeStages(next, Between(1, 2), OneIn(2))},
                       {"other", OneIn(2) ? MakeStages(next, 1, true) : std::vector<Stage>{}}});
  }

  std::mt19937 random_;
};

// Everything a schedule says, as one text to compare.
inline std::string TextOf(const CareLine& line) {
  std::string text;
  for (const auto* kinds : {&line.kinds, &line.done_kinds, &line.skipped_kinds}) {
    for (const CareKind kind : *kinds) text += std::string{ToText(kind)} + '+';
    text += '|';
  }
  text += std::string{ToText(line.state)} + ' ' + ToText(line.due) + ' ' + ToText(line.window_end);
  if (line.away) text += " away";
  if (line.agreed) text += " agreed";
  if (line.evening) text += " evening";
  if (line.not_before) text += " not before " + ToText(*line.not_before);
  return text + ' ' + ToText(line.settled_by) + ' ' + line.reason;
}
inline std::string TextOf(const Schedule& schedule) {
  std::string text = schedule.standing.stage ? schedule.standing.stage->name : "no stage";
  for (const CareLine& line : schedule.lines) text += '\n' + TextOf(line);
  for (const Question& question : schedule.questions) text += "\n? " + question.text;
  return text;
}

}  // namespace rindwatch::rules::testing
