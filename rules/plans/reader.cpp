#include <utility>

#include "rules/plans/checks.hpp"
#include "rules/plans/fields.hpp"

namespace rindwatch::rules {
namespace {

// Bounds beyond which a figure is a slip of the pen, whatever the family.
constexpr int kLastDay = 36500;
constexpr double kColdest = -10, kWarmest = 60;
constexpr double kSaltiest = 26.4;    // grams in 100 g: more does not dissolve in cold water
constexpr double kMostAdded = 1'000;  // mL to a litre
constexpr std::size_t kLongestText = 1 << 20;

constexpr std::string_view kCareWords =
    "turn, wash, brush, pat, rub, salt, wipe, oil, coat, pierce, wrap, move, look, weigh, wax, bandage or taste";
constexpr std::string_view kStartWords =
    "made, salted, dry, entered box, entered cave, pierced, wrapped, entered cold store or waxed";
constexpr std::string_view kRindWords = "fresh and white, natural and pressed, washed or blue";
constexpr std::string_view kStateWords = "drying, rind forming, ripening, ready or holding";
constexpr std::string_view kHardinessWords = "soft, blue, semi-hard or hard";
constexpr std::string_view kCadenceKeys =
    "every_days, times_a_week, once_on_day, morning_and_evening = true, only_together = true";

std::optional<int> HardinessFrom(std::string_view text) {
  if (text == "soft") return 0;
  if (text == "blue") return 1;
  if (text == "semi-hard") return 2;
  if (text == "hard") return 3;
  return std::nullopt;
}

Cadence ReadCadence(Fields& fields) {
  std::vector<Cadence> found;
  if (const auto days = fields.MaybeNumber("every_days", 1, kLastDay)) found.emplace_back(EveryDays{*days});
  if (const auto times = fields.MaybeNumber("times_a_week", 1, 7)) found.emplace_back(TimesAWeek{*times});
  if (const auto day = fields.MaybeNumber("once_on_day", 0, kLastDay)) found.emplace_back(OnceOnDay{*day});
  if (fields.IsTrue("morning_and_evening")) found.emplace_back(MorningAndEvening{});
  if (fields.IsTrue("only_together")) found.emplace_back(OnlyTogether{});
  std::size_t written = 0;
  for (const char* key : {"every_days", "times_a_week", "once_on_day", "morning_and_evening", "only_together"}) {
    if (fields.Has(key)) ++written;
  }
  if (written != 1) {
    fields.Fault("cadence", "expected exactly one of " + std::string{kCadenceKeys} + ", found " +
                                std::to_string(written) + "; say how often the care comes");
  }
  return found.empty() ? Cadence{} : found.front();
}

Wash ReadWash(Fields& fields) {
  Wash wash;
  if (!fields.Has("salt")) fields.Fault("salt", "missing; write salt = { low = ..., high = ..., source = \"...\" }");
  wash.salt = fields.MaybeFigure("salt", 0, kSaltiest).value_or(Figure{});
  fields.Each("additions", [&](Fields& inner) {
    WashAddition addition;
    addition.name = inner.Text("name");
    addition.ml_per_litre = inner.Decimal("ml_per_litre", 0, kMostAdded);
    addition.source = inner.Text("source");
    wash.additions.push_back(std::move(addition));
  });
  wash.note = fields.TextOr("note", "");
  return wash;
}

Care ReadCare(Fields& fields) {
  Care care;
  if (!fields.Has("kinds")) fields.Fault("kinds", "missing; write kinds = [\"...\"] with " + std::string{kCareWords});
  care.kinds = fields.Words("kinds", &CareKindFrom, kCareWords);
  care.brings = fields.Words("brings", &CareKindFrom, kCareWords);
  care.cadence = ReadCadence(fields);
  care.tolerance = fields.MaybeNumber("tolerance", 0, kLastDay);
  care.note = fields.TextOr("note", "");
  care.source = fields.Text("source");
  fields.Inside("wash", [&](Fields& wash) { care.wash = ReadWash(wash); });
  care.cautions = fields.Sayings("cautions");
  return care;
}

Stage ReadStage(Fields& fields) {
  Stage stage;
  stage.name = fields.Text("name");
  stage.state = fields.Word("state", &WheelStateFrom, kStateWords).value_or(WheelState::kDrying);
  stage.first_day = fields.Number("first_day", 0, kLastDay);
  stage.last_day = fields.MaybeNumber("last_day", 0, kLastDay);
  stage.source = fields.Text("source");
  stage.temperature_target = fields.MaybeFigure("temperature_target", kColdest, kWarmest);
  stage.temperature_band = fields.MaybeFigure("temperature_band", kColdest, kWarmest);
  stage.humidity_target = fields.MaybeFigure("humidity_target", 0, 100);
  stage.humidity_band = fields.MaybeFigure("humidity_band", 0, 100);
  stage.counts = fields.FlagOr("counts", true);
  fields.Each("cares", [&](Fields& care) { stage.cares.push_back(ReadCare(care)); });
  return stage;
}

Branch ReadBranch(Fields& fields) {
  Branch branch;
  branch.question = fields.Text("question");
  branch.asked_from = fields.Number("asked_from", 0, kLastDay);
  branch.default_option = fields.Text("default_option");
  fields.Each("options", [&](Fields& inner) {
    BranchOption option;
    option.name = inner.Text("name");
    option.ready_days = inner.MaybeFigure("ready_days", 0, kLastDay);
    inner.Each("stages", [&](Fields& stage) { option.stages.push_back(ReadStage(stage)); });
    branch.options.push_back(std::move(option));
  });
  return branch;
}

Part ReadPart(Fields& fields) {
  Part part;
  part.start = fields.Word("start", &StartKindFrom, kStartWords).value_or(StartKind::kMade);
  part.asked_from = fields.MaybeNumber("asked_from", 0, kLastDay);
  part.question = fields.TextOr("question", "");
  part.usual_days = fields.MaybeFigure("usual_days", 0, kLastDay);
  fields.Each("stages", [&](Fields& stage) { part.stages.push_back(ReadStage(stage)); });
  fields.Inside("branch", [&](Fields& branch) { part.branch = ReadBranch(branch); });
  return part;
}

Plan ReadFields(Fields& fields) {
  Plan plan;
  plan.format = fields.Number("format", 0, kLastDay);
  plan.id = fields.Text("id");
  plan.version = fields.Number("version", 1, 1'000'000'000);
  plan.family = fields.Text("family");
  plan.rind_words = fields.Text("rind_words");
  plan.rind = fields.Word("rind", &RindClassFrom, kRindWords).value_or(RindClass::kNaturalAndPressed);
  plan.hardiness = fields.Word("hardiness", &HardinessFrom, kHardinessWords).value_or(2);
  plan.ready_days = fields.MaybeFigure("ready_days", 0, kLastDay);
  plan.ready_from = fields.WordOr("ready_from", &StartKindFrom, kStartWords, StartKind::kMade);
  plan.cautions = fields.Sayings("cautions");
  fields.Each("parts", [&](Fields& part) { plan.parts.push_back(ReadPart(part)); });
  fields.NoOthers();
  return plan;
}

PlanReading Broken(int line, std::string what) { return {std::nullopt, {{line, "", std::move(what)}}}; }

}  // namespace

PlanReading ReadPlan(std::string_view text, std::string_view name) {
  if (text.size() > kLongestText) return Broken(0, "expected at most 1 MiB of text, found more; this is not a plan");
  toml::table table;
  try {
    table = toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    return Broken(static_cast<int>(error.source().begin.line),
                  "expected TOML, found: " + std::string{error.description()} + "; correct this line first");
  }
  Faults faults;
  Fields fields(table, "", faults);
  Plan plan = ReadFields(fields);
  CheckPlan(plan, faults);
  PlanReading reading{std::nullopt, faults.Take()};
  if (reading.faults.empty()) reading.plan = std::move(plan);
  return reading;
}

}  // namespace rindwatch::rules
