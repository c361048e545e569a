// Sound plans by chance, from a fixed seed, with everything that a plan file can say.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "rules/plans/plan.hpp"

namespace rindwatch::rules::testing {

class AnyPlan {
 public:
  explicit AnyPlan(unsigned seed) : random_(seed) {}

  Plan Make() {
    Plan plan;
    plan.id = "by-chance-" + std::to_string(Between(0, 99));
    plan.version = Between(1, 1000);
    plan.family = Saying();
    plan.rind_words = Saying();
    plan.rind = static_cast<RindClass>(Between(0, 3));
    plan.hardiness = Between(0, 3);
    plan.ready_days = MaybeFigure(0, 900);
    for (int i = Between(0, 3); i > 0; --i) plan.cautions.push_back(Saying());
    const int parts = Between(1, 4);
    for (int i = 0; i < parts; ++i) AddPart(plan);
    plan.ready_from = plan.parts[static_cast<std::size_t>(Between(0, parts - 1))].start;
    return plan;
  }

  int Between(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
  bool OneIn(int n) { return Between(1, n) == 1; }

 private:
  // What a keeper may type, and what a machine may send.
  std::string Saying() {
    static const std::vector<std::string> kSayings{"turn it",
                                                   "two\nlines",
                                                   "a \"quoted\" word",
                                                   "back\\slash",
                                                   "tab\tand \x01 and \x7f",
                                                   "# no comment",
                                                   "Käse, fromage à pâte, 乾酪",
                                                   "'''",
                                                   "\"\"\"",
                                                   " ",
                                                   "=",
                                                   "[[parts]]",
                                                   "\r\n"};
    return kSayings[static_cast<std::size_t>(Between(0, static_cast<int>(kSayings.size()) - 1))];
  }
  double Decimal(double low, double high) {
    const double value = std::uniform_real_distribution<>(low, high)(random_);
    return OneIn(2) ? std::clamp(std::round(value * 2) / 2, low, high) : value;
  }
  Figure MakeFigure(double low, double high) {
    const double a = Decimal(low, high), b = Decimal(low, high);
    return {std::min(a, b), std::max(a, b), Saying()};
  }
  std::optional<Figure> MaybeFigure(double low, double high) {
    return OneIn(3) ? std::nullopt : std::optional{MakeFigure(low, high)};
  }

  void AddPart(Plan& plan) {
    Part part;
    const bool first = plan.parts.empty();
    part.start = first ? StartKind::kMade : NextStart(plan);
    part.stages = MakeStages(Between(0, 1), Between(1, 3));
    if (!first) BeginPart(plan.parts.back(), part);
    if (OneIn(3)) AddBranch(part);
    plan.parts.push_back(std::move(part));
  }

  StartKind NextStart(const Plan& plan) {
    while (true) {
      const auto start = static_cast<StartKind>(Between(1, static_cast<int>(kLastStartKind)));
      const auto same = [start](const Part& part) { return part.start == start; };
      if (std::none_of(plan.parts.begin(), plan.parts.end(), same)) return start;
    }
  }

  // By a question or, where its name allows it, by a doing that the part before asks for once.
  void BeginPart(Part& before, Part& part) {
    if (!OneIn(3)) part.usual_days = MakeFigure(0, 99);
    if (const auto kind = BegunBy(part); kind && OneIn(2)) {
      Stage& stage = before.stages.front();
      stage.cares.push_back({{*kind}, {}, OnceOnDay{stage.first_day}, std::nullopt, "", Saying()});
      return;
    }
    part.question = Saying();
    part.asked_from = Between(0, 60);
  }

  void AddBranch(Part& part) {
    Stage& shared = part.stages.back();
    if (!shared.last_day) shared.last_day = shared.first_day + 20;
    part.branch = Branch{Saying(), Between(0, 90), {}, "one"};
    for (const char* name : {"one", "two", "and three"}) {
      BranchOption option{name, {}, MaybeFigure(0, 900)};
      if (!OneIn(3)) option.stages = MakeStages(*shared.last_day + 1, Between(1, 2));
      part.branch->options.push_back(std::move(option));
    }
  }

  std::vector<Stage> MakeStages(int first, int count) {
    std::vector<Stage> stages;
    for (int i = 0; i < count; ++i) {
      stages.push_back(MakeStage(first));
      first += Between(0, 30);
      if (i + 1 < count || OneIn(2)) stages.back().last_day = first++;
    }
    return stages;
  }

  Stage MakeStage(int first) {
    Stage stage;
    stage.name = Saying();
    stage.state = static_cast<WheelState>(Between(0, 4));
    stage.first_day = first;
    stage.source = Saying();
    stage.counts = !OneIn(3);
    stage.temperature_band = MaybeFigure(-10, 60);
    stage.humidity_band = MaybeFigure(0, 100);
    // Inside its band, or alone.
    if (OneIn(2)) stage.temperature_target = Within(stage.temperature_band, -10, 60);
    if (OneIn(2)) stage.humidity_target = Within(stage.humidity_band, 0, 100);
    std::set<CareKind> taken;
    for (int i = Between(0, 3); i > 0; --i) stage.cares.push_back(MakeCare(first, taken));
    return stage;
  }

  Figure Within(const std::optional<Figure>& band, double low, double high) {
    return band ? MakeFigure(band->low, band->high) : MakeFigure(low, high);
  }

  CareKind Take(std::set<CareKind>& taken) {
    while (true) {
      const auto kind = static_cast<CareKind>(Between(0, static_cast<int>(kLastCareKind)));
      if (taken.insert(kind).second) return kind;
    }
  }

  Care MakeCare(int first, std::set<CareKind>& taken) {
    Care care;
    for (int i = Between(1, 2); i > 0; --i) care.kinds.push_back(Take(taken));
    if (OneIn(2)) care.brings.push_back(Take(taken));
    switch (Between(0, 3)) {
      case 0:
        care.cadence = EveryDays{Between(3, 40)};
        if (OneIn(2)) care.tolerance = Between(0, 2);
        break;
      case 1:
        care.cadence = TimesAWeek{Between(1, 7)};
        if (OneIn(2)) care.tolerance = 0;
        break;
      case 2:
        care.cadence = OnceOnDay{first};
        if (OneIn(2)) care.tolerance = Between(0, 9);
        break;
      default:
        care.cadence = MorningAndEvening{};
    }
    if (OneIn(2)) care.note = Saying();
    care.source = Saying();
    for (int i = Between(0, 2); i > 0; --i) care.cautions.push_back(Saying());
    if (OneIn(3)) care.wash = MakeWash();
    return care;
  }

  Wash MakeWash() {
    Wash wash{MakeFigure(0, 26), {}, OneIn(2) ? Saying() : std::string{}};
    for (int i = Between(0, 2); i > 0; --i) wash.additions.push_back({Saying(), Decimal(0, 1000), Saying()});
    return wash;
  }

  std::mt19937 random_;
};

}  // namespace rindwatch::rules::testing
