#include "daemon/api/plan_changes.hpp"

#include <fmt/format.h>

namespace rindwatch {

namespace {

// The least digits that tell the figure: 88, 12.5.
std::string Figures(double value) { return fmt::format("{:g}", value); }

std::string SpanWords(const Words& words, const rules::Figure& figure) {
  if (figure.low == figure.high) return Figures(figure.low);
  return words.Say("span", {{"low", Figures(figure.low)}, {"high", Figures(figure.high)}});
}

struct Say {
  const Words& words;
  std::string operator()(std::monostate) const { return words.Say("change.none"); }
  std::string operator()(const std::string& text) const { return text.empty() ? words.Say("change.none") : text; }
  std::string operator()(int number) const { return std::to_string(number); }
  std::string operator()(bool yes) const { return words.Say(yes ? "change.yes" : "change.no"); }
  std::string operator()(const rules::Figure& figure) const { return SpanWords(words, figure); }
  std::string operator()(const rules::StageDays& days) const {
    if (!days.last) return words.Say("plans.from day", {{"day", std::to_string(days.first)}});
    return words.Say("plans.days of", {{"from", std::to_string(days.first)}, {"to", std::to_string(*days.last)}});
  }
  std::string operator()(const rules::Cadence& cadence) const { return CadenceWords(words, cadence); }
  std::string operator()(const rules::Wash& wash) const {
    std::string text = words.Say("change.recipe", {{"salt", SpanWords(words, wash.salt)}});
    for (const rules::WashAddition& addition : wash.additions) {
      text += ", " + words.Say("plans.addition", {{"name", addition.name}, {"ml", Figures(addition.ml_per_litre)}});
    }
    return text;
  }
  std::string operator()(rules::WheelState state) const { return std::string(rules::ToText(state)); }
  std::string operator()(rules::StartKind start) const { return std::string(rules::ToText(start)); }
  std::string operator()(const std::vector<rules::CareKind>& kinds) const {
    return kinds.empty() ? words.Say("change.none") : KindsWords(words, kinds);
  }
  std::string operator()(const std::vector<std::string>& texts) const {
    std::string all;
    for (const std::string& text : texts) all += (all.empty() ? "" : " ") + text;
    return all.empty() ? words.Say("change.none") : all;
  }
};

const char* FieldKey(rules::PlanChange::Field field) {
  using enum rules::PlanChange::Field;
  switch (field) {
    case kFamily:
      return "family";
    case kRindWords:
    case kRind:
      return "rind";
    case kHardiness:
      return "hardiness";
    case kReadyDays:
    case kReadyFrom:
      return "ready";
    case kCautions:
      return "cautions";
    case kPart:
    case kAskedFrom:
    case kUsualDays:
      return "part";
    case kQuestion:
    case kBranchQuestion:
      return "question";
    case kBranch:
    case kBranchAskedFrom:
    case kDefaultOption:
    case kOption:
      return "road";
    case kStage:
    case kStageName:
      return "stage";
    case kStageDays:
      return "days";
    case kState:
      return "state";
    case kCounts:
      return "counts";
    case kTemperatureTarget:
      return "temperature target";
    case kTemperatureBand:
      return "temperature";
    case kHumidityTarget:
      return "humidity target";
    case kHumidityBand:
      return "humidity";
    case kCare:
    case kCadence:
      return "care";
    case kBrings:
      return "brings";
    case kTolerance:
      return "tolerance";
    case kNote:
      return "note";
    case kWash:
      return "wash";
  }
  return "stage";
}

// What changed: the care where it is one's own, else the field, with the stage or road that it stands in.
std::string Subject(const Words& words, const rules::PlanChange& change) {
  const std::string field = words.Say(std::string("change.of.") + FieldKey(change.field));
  // A wash is named once, not as the care and again as what it is dipped into.
  const bool by_kinds = !change.kinds.empty() && change.field != rules::PlanChange::Field::kWash;
  std::string subject = by_kinds ? KindsWords(words, change.kinds) : field;
  const bool says_field =
      by_kinds && change.field != rules::PlanChange::Field::kCare && change.field != rules::PlanChange::Field::kCadence;
  if (says_field) subject += ", " + field;
  if (!change.stage.empty()) return change.stage + ", " + subject;
  return change.option.empty() ? subject : change.option + ", " + subject;
}

bool IsNothing(const rules::PlanValue& value) { return std::holds_alternative<std::monostate>(value); }

}  // namespace

std::string CadenceWords(const Words& words, const rules::Cadence& cadence) {
  struct Cadences {
    const Words& words;
    std::string operator()(const rules::EveryDays& every) const {
      if (every.days == 1) return words.Say("cadence.daily");
      return words.Say("cadence.every", {{"days", std::to_string(every.days)}});
    }
    std::string operator()(const rules::TimesAWeek& week) const {
      if (week.times == 2) return words.Say("cadence.week twice");
      return words.Count("cadence.week", static_cast<std::size_t>(week.times));
    }
    std::string operator()(const rules::OnceOnDay& once) const {
      return words.Say("cadence.once", {{"day", std::to_string(once.day)}});
    }
    std::string operator()(const rules::MorningAndEvening&) const { return words.Say("cadence.morning and evening"); }
    std::string operator()(const rules::OnlyTogether&) const { return words.Say("change.together"); }
  };
  return std::visit(Cadences{words}, cadence);
}

std::string KindsWords(const Words& words, const std::vector<rules::CareKind>& kinds) {
  std::string text;
  for (const rules::CareKind kind : kinds) {
    text += (text.empty() ? "" : ", ") + words.Say("care." + std::string(rules::ToText(kind)));
  }
  return text;
}

std::string ChangeWords(const Words& words, const rules::PlanChange& change) {
  const std::string subject = Subject(words, change);
  const std::string is = std::visit(Say{words}, change.is), was = std::visit(Say{words}, change.was);
  if (IsNothing(change.was)) return words.Say("change.new", {{"what", subject}, {"is", is}});
  if (IsNothing(change.is)) return words.Say("change.struck", {{"what", subject}, {"was", was}});
  return words.Say("change.was", {{"what", subject}, {"is", is}, {"was", was}});
}

}  // namespace rindwatch
