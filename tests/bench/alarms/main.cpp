// The rules of the watch on simulated fridges: prints the targets, what was reached on the seeds that they were tuned
// on and on fresh ones, and how fast readings are replayed. Only simulated, no real fridge: the order of size counts.
// alarm-bench FOLDER [FIRST LAST]... [--only TROUBLE] [--with LIMIT VALUE] [--details]: courses are kept in the folder;
// each pair is a set of seeds.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <map>
#include <string>

#include "tests/bench/alarms/earliest.hpp"
#include "tests/bench/alarms/verdict.hpp"

namespace rindwatch::bench {
namespace {

using rules::AlarmKind;
using rules::Severity;

constexpr double kNear = 0.3;  // K from leaving

struct Set {
  std::string name;
  std::map<Trouble, std::vector<Verdict>> verdicts;
  std::map<Trouble, std::vector<Course>> courses;  // only those that are looked into again
  std::vector<Harmless> harmless;                  // of the quiet ones
  std::size_t readings = 0;
  double seconds = 0;
};

struct Asked {
  std::string folder;
  std::vector<std::pair<int, int>> seeds{};
  std::vector<Trouble> troubles{};  // empty: all
  rules::OwnSettings own{};
  bool details = false;
};

bool IsLookedIntoAgain(Trouble trouble) {
  return trouble == Trouble::kRough || trouble == Trouble::kSticks || trouble == Trouble::kDead;
}

Set SetOf(int first, int last, const Asked& asked) {
  Set set;
  set.name = std::to_string(first) + " to " + std::to_string(last);
  for (int seed = first; seed <= last; ++seed) {
    for (const Trouble trouble : asked.troubles) {
      const Course course = CourseOf(trouble, seed, asked.folder);
      // One probe alone, but where it takes two to tell.
      Replayed replayed = Judge(course, trouble == Trouble::kPower, asked.own);
      set.readings += replayed.readings;
      set.seconds += replayed.seconds;
      set.verdicts[trouble].push_back(std::move(replayed.verdict));
      if (trouble == Trouble::kQuiet) set.harmless.push_back(HarmlessOf(course));
      if (IsLookedIntoAgain(trouble)) set.courses[trouble].push_back(course);
    }
  }
  return set;
}

double Median(std::vector<double> values) {
  if (values.empty()) return -1;
  std::ranges::sort(values);
  const std::size_t half = values.size() / 2;
  return values.size() % 2 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double Least(const std::vector<double>& values) { return values.empty() ? -1 : *std::ranges::min_element(values); }
double Most(const std::vector<double>& values) { return values.empty() ? -1 : *std::ranges::max_element(values); }

std::string Text(const char* format, auto... values) {
  char text[300];
  std::snprintf(text, sizeof text, format, values...);
  return text;
}

bool IsRing(const Ring& ring, Severity severity) { return ring.decision.alarm.severity == severity; }

// Rings at act or above that no other one came within half a day before; of one kind or of all.
std::vector<int> ActEvents(const Verdict& verdict, std::optional<AlarmKind> kind = {}) {
  std::vector<int> events;
  int last = -100'000;
  for (const Ring& ring : verdict.rings) {
    if (ring.decision.alarm.severity < Severity::kAct || (kind && ring.decision.alarm.kind != *kind)) continue;
    if (ring.at - last > 12 * 60) events.push_back(ring.at);
    last = ring.at;
  }
  return events;
}

std::string Quiet(const Set& set) {
  std::size_t acts = 0, watches = 0;
  for (const Verdict& verdict : set.verdicts.at(Trouble::kQuiet)) {
    acts += ActEvents(verdict).size();
    watches += static_cast<std::size_t>(
        std::ranges::count_if(verdict.rings, [](const Ring& ring) { return IsRing(ring, Severity::kWatch); }));
  }
  return Text("%zu; %.2f", acts,
              static_cast<double>(watches) / static_cast<double>(set.verdicts.at(Trouble::kQuiet).size()));
}

// Within the three hours after the ring.
double WarmestAfter(const Course& course, int at) {
  int warmest = -10'000;
  const int end = std::min(at + 180, static_cast<int>(course.minutes.size()));
  for (int m = std::max(0, at); m < end; ++m) {
    for (const int core : course.minutes[static_cast<std::size_t>(m)].cores) warmest = std::max(warmest, core);
  }
  return warmest / 100.0;
}

std::string Rough(const Set& set) {
  std::size_t all = 0, real = 0;
  double watches = 0;
  const auto& verdicts = set.verdicts.at(Trouble::kRough);
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    for (const int at : ActEvents(verdicts[i], AlarmKind::kTooWarm)) {
      ++all;
      real += WarmestAfter(set.courses.at(Trouble::kRough)[i], at) >= kLimit - kNear;
    }
    watches += static_cast<double>(
        std::ranges::count_if(verdicts[i].rings, [](const Ring& ring) { return IsRing(ring, Severity::kWatch); }));
  }
  return Text("%zu of %zu = %.0f %%; watch %.1f", real, all,
              all ? 100.0 * static_cast<double>(real) / static_cast<double>(all) : 100.0,
              watches / static_cast<double>(verdicts.size()));
}

std::string BeforeItLeaves(const Set& set) {
  int small = 0, small_all = 0, large = 0, large_all = 0;
  for (const Trouble trouble : {Trouble::kDead, Trouble::kIced, Trouble::kDrifts}) {
    for (const Verdict& verdict : set.verdicts.at(trouble)) {
      const auto act = FirstRing(verdict, {AlarmKind::kTooWarm}, Severity::kAct, *verdict.begins);
      const auto count = [&](int wheel, int& before, int& all) {
        if (!verdict.leaves[wheel]) return;
        ++all;
        before += act && *act < *verdict.leaves[wheel];
      };
      count(0, small, small_all);
      count(1, large, large_all);
    }
  }
  return Text("%d/%d; %d/%d", large, large_all, small, small_all);
}

std::vector<double> HoursAfter(const Set& set, Trouble trouble, std::vector<AlarmKind> kinds, Severity severity) {
  std::vector<double> hours;
  for (const Verdict& verdict : set.verdicts.at(trouble)) {
    const auto ring = FirstRing(verdict, kinds, severity, *verdict.begins);
    hours.push_back(ring ? (*ring - *verdict.begins) / 60.0 : 999);
  }
  return hours;
}

// From the ring to a core's leaving; `wheel` -1: the first of any.
std::vector<double> Leads(const Set& set, Trouble trouble, std::vector<AlarmKind> kinds, Severity severity, int wheel) {
  std::vector<double> hours;
  for (const Verdict& verdict : set.verdicts.at(trouble)) {
    const auto ring = FirstRing(verdict, kinds, severity, *verdict.begins);
    std::optional<int> leaves;
    for (int w = 0; w < Minute::kWheels; ++w) {
      if (wheel >= 0 && w != wheel) continue;
      if (verdict.leaves[w] && (!leaves || *verdict.leaves[w] < *leaves)) leaves = verdict.leaves[w];
    }
    if (leaves) hours.push_back(ring ? (*leaves - *ring) / 60.0 : -999);
  }
  return hours;
}

const std::vector<AlarmKind> kEarly{AlarmKind::kPlantWeak, AlarmKind::kTooWarm};

std::string Dead(const Set& set) {
  const auto act = HoursAfter(set, Trouble::kDead, {AlarmKind::kTooWarm}, Severity::kAct);
  return Text("%.1f, %.1f; %.1f, %.1f", Median(act), Most(act),
              Median(Leads(set, Trouble::kDead, {AlarmKind::kTooWarm}, Severity::kAct, 0)),
              Median(Leads(set, Trouble::kDead, {AlarmKind::kTooWarm}, Severity::kAct, 1)));
}

// From the failure on: when the small and the large core leave; by when the fridge could be told from a well one at the
// earliest, and what leads that would leave.
std::string DeadAtMost(const Set& set) {
  std::vector<double> small, large, told, small_lead, large_lead, turns;
  const auto& verdicts = set.verdicts.at(Trouble::kDead);
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    const auto hours = [&](int minute) { return (minute - *verdicts[i].begins) / 60.0; };
    turns.push_back(set.harmless[i].longest_turn);
    const auto apart = ToldApart(set.courses.at(Trouble::kDead)[i], set.harmless[i]);
    if (!apart || !verdicts[i].leaves[0] || !verdicts[i].leaves[1]) continue;
    told.push_back(hours(*apart));
    small.push_back(hours(*verdicts[i].leaves[0]));
    large.push_back(hours(*verdicts[i].leaves[1]));
    small_lead.push_back(small.back() - told.back());
    large_lead.push_back(large.back() - told.back());
  }
  return Text(
      "cores leave %.1f; %.1f h after it dies, so a lead of 2.5 h for 250 g would mean an act %.1f h after. Harmless "
      "warmth rises for up to %.0f min, and told from that at the earliest after %.1f h: lead at most %.1f; %.1f h",
      Median(small), Median(large), Median(small) - 2.5, Most(turns), Median(told), Median(small_lead),
      Median(large_lead));
}

std::string Iced(const Set& set) {
  const auto leads = Leads(set, Trouble::kIced, kEarly, Severity::kWatch, -1);
  return Text("%.0f, %.0f", Median(leads), Least(leads));
}

std::string Drifts(const Set& set) {
  const auto leads = Leads(set, Trouble::kDrifts, kEarly, Severity::kWatch, 1);
  return Text("%.1f (%zu leave)", Median(leads), leads.size());
}

std::string Power(const Set& set) {
  const auto act = HoursAfter(set, Trouble::kPower, {AlarmKind::kPowerGone}, Severity::kAct);
  return Text("%.0f min at most", Most(act) * 60);
}

std::string Stuck(const Set& set) {
  const auto rings = HoursAfter(set, Trouble::kStuck, {AlarmKind::kProbeStuck}, Severity::kWatch);
  return Text("%.1f, %.1f", Median(rings), Most(rings));
}

std::string Wet(const Set& set) {
  const auto rings = HoursAfter(set, Trouble::kWet, {AlarmKind::kProbeWet}, Severity::kWatch);
  int damp = 0;
  for (const Verdict& verdict : set.verdicts.at(Trouble::kWet)) {
    damp += FirstRing(verdict, {AlarmKind::kTooDamp}, Severity::kHint, *verdict.begins).has_value();
  }
  return Text("%.1f, %.1f; damp %d", Median(rings), Most(rings), damp);
}

std::string Wick(const Set& set) {
  const auto rings = HoursAfter(set, Trouble::kWick, {AlarmKind::kTooDry}, Severity::kWatch);
  return Text("%.1f, %.1f; missed %td", Median(rings), Most(rings), std::ranges::count(rings, 999.0));
}

// How many of the failures' forecasts, made when the alarm rang or got louder, held the truth.
std::string Coverage(const Set& set) {
  int all = 0, held = 0, early = 0;
  std::vector<double> widths;
  for (const Trouble trouble : {Trouble::kDead, Trouble::kIced, Trouble::kDrifts, Trouble::kPower}) {
    for (const Verdict& verdict : set.verdicts.at(trouble)) {
      for (const Outcome& outcome : verdict.outcomes) {
        ++all;
        const double came = outcome.came.value_or(1e9), latest = outcome.latest.value_or(1e9);
        held += came >= outcome.soonest && came <= latest;
        early += came < outcome.soonest;
        if (outcome.latest) widths.push_back((*outcome.latest - outcome.soonest) / 60);
      }
    }
  }
  return Text("%.0f %% of %d (sooner %d); width %.1f h", 100.0 * held / std::max(1, all), all, early, Median(widths));
}

// The cold side: told while every core is less than 2 K under its band, and loudly before any is near freezing.
std::string Sticks(const Set& set) {
  int told = 0, loud = 0;
  const auto& verdicts = set.verdicts.at(Trouble::kSticks);
  const auto& courses = set.courses.at(Trouble::kSticks);
  for (std::size_t i = 0; i < verdicts.size(); ++i) {
    const auto coldest_at = [&](std::optional<int> at) {
      if (!at) return -99.0;
      const auto& cores = courses[i].minutes[static_cast<std::size_t>(*at)].cores;
      return *std::min_element(std::begin(cores), std::end(cores)) / 100.0;
    };
    const int from = *verdicts[i].begins;
    told += coldest_at(FirstRing(verdicts[i], {AlarmKind::kTooCold}, Severity::kWatch, from)) > kColdLimit - 2;
    loud += coldest_at(FirstRing(verdicts[i], {AlarmKind::kTooCold}, Severity::kAct, from)) > 1.5;
  }
  const auto watch = HoursAfter(set, Trouble::kSticks, {AlarmKind::kTooCold}, Severity::kWatch);
  const auto act = HoursAfter(set, Trouble::kSticks, {AlarmKind::kTooCold}, Severity::kAct);
  return Text("%d/%zu, %d/%zu; %.1f, %.1f h", told, verdicts.size(), loud, verdicts.size(), Median(watch), Median(act));
}

std::string Estimate(const Set& set) {
  double worst = 0, sum = 0;
  for (const Verdict& verdict : set.verdicts.at(Trouble::kRough)) {
    worst = std::max(worst, verdict.wrong_by);
    sum += verdict.wrong_by;
  }
  return Text("%.2f, %.2f", sum / static_cast<double>(set.verdicts.at(Trouble::kRough).size()), worst);
}

struct Row {
  const char* target;
  const char* study;
  std::vector<Trouble> needs;
  std::string (*reached)(const Set&);
};
const std::vector<Row>& Rows() {
  using enum Trouble;
  static const std::vector<Row> rows = {
      {"quiet 90 d: act rings, none; watch a cave, at most 1", "0; 0.4 / 0; 0.2", {kQuiet}, Quiet},
      {"rough 90 d: act rings with a core within 0.3 K, 90 %", "93 % / 95 %", {kRough}, Rough},
      {"act before the core leaves: 2 kg always; 250 g 95 %",
       "60/60; 63/64 / 62/62; 60/65",
       {kDead, kIced, kDrifts},
       BeforeItLeaves},
      {"compressor dead: act median 1.5 h, worst 3; lead of 250 g 2.5 (out of reach, see below), of 2 kg 3.5",
       "1.5, 2.8; 2.7, 4.1 / 1.2, 2.3; 2.5, 3.6",
       {kDead},
       Dead},
      {"compressor dead: what no rule can reach, though it knew every rise of the quiet 90 d beforehand (250 g; 2 kg)",
       "not told",
       {kQuiet, kDead},
       DeadAtMost},
      {"iced coil: watch ahead, median 60 h, each 48", "73, 65 / 78, 57", {kIced}, Iced},
      {"thermostat +2: watch ahead of 2 kg, median 15 h", "24 / 23", {kDrifts}, Drifts},
      {"power: act in 5 min", "met", {kPower}, Power},
      {"stuck: in 1 h (median, worst)", "met", {kStuck}, Stuck},
      {"wet: in 2 h (median, worst), never too damp", "met", {kWet}, Wet},
      {"wick dry: median 15 h, worst, all found", "12.4 / 12.4", {kWick}, Wick},
      {"80 % interval holds 75 to 90 %", "84-86 / 79-87 %", {kDead, kIced, kDrifts, kPower}, Coverage},
      {"cold: watch above 8 C, act above 1.5 C, always; when", "not studied", {kSticks}, Sticks},
      {"estimate of 250 g against its core, K (mean, worst rms)", "-", {kRough}, Estimate},
  };
  return rows;
}

bool CanBeTold(const Row& row, const Set& set) {
  return std::ranges::all_of(row.needs, [&](Trouble trouble) { return set.verdicts.contains(trouble); });
}

void Details(const Set& set) {
  for (const auto& [trouble, verdicts] : set.verdicts) {
    for (const Verdict& verdict : verdicts) {
      for (const Outcome& outcome : verdict.outcomes) {
        std::printf("%s %d: at %+.1f h: %.1f to %.1f h, came %.1f\n", ToText(trouble), verdict.seed,
                    (outcome.at - verdict.begins.value_or(0)) / 60.0, outcome.soonest / 60,
                    outcome.latest.value_or(-60) / 60, outcome.came.value_or(-60) / 60);
      }
      for (const Ring& ring : verdict.rings) {
        const rules::Alarm& alarm = ring.decision.alarm;
        std::printf("%s %d: %+.1f h, %s %s by %s, value %.2f\n", ToText(trouble), verdict.seed,
                    (ring.at - verdict.begins.value_or(0)) / 60.0, std::string(rules::ToText(alarm.kind)).c_str(),
                    std::string(rules::ToText(alarm.severity)).c_str(), std::string(rules::ToText(alarm.why)).c_str(),
                    alarm.value);
      }
    }
  }
}

// None: it was asked in a way that nobody understands.
std::optional<Asked> AskedBy(int count, char** words) {
  if (count < 2) return std::nullopt;
  Asked asked;
  asked.folder = words[1];
  for (int i = 2; i < count; ++i) {
    if (std::strcmp(words[i], "--details") == 0) {
      asked.details = true;
      continue;
    }
    if (++i == count) return std::nullopt;
    if (std::strcmp(words[i - 1], "--only") == 0) {
      const auto trouble = TroubleFrom(words[i]);
      if (!trouble) return std::nullopt;
      asked.troubles.push_back(*trouble);
    } else if (std::strcmp(words[i - 1], "--with") == 0) {
      if (!rules::SettingRowOf(words[i]) || ++i == count) return std::nullopt;
      asked.own.emplace_back(words[i - 1], std::atof(words[i]));
    } else {
      asked.seeds.emplace_back(std::atoi(words[i - 1]), std::atoi(words[i]));
    }
  }
  if (asked.seeds.empty()) asked.seeds = {{1, 20}, {21, 40}};
  if (asked.troubles.empty()) asked.troubles.assign(std::begin(kTroubles), std::end(kTroubles));
  return asked;
}

int Run(int count, char** words) {
  const auto asked = AskedBy(count, words);
  if (!asked) {
    std::fprintf(stderr,
                 "alarm-bench FOLDER [FIRST LAST]... [--only TROUBLE]... [--with LIMIT VALUE]... [--details]\n");
    return 2;
  }
  std::vector<Set> sets;
  for (const auto& [first, last] : asked->seeds) sets.push_back(SetOf(first, last, *asked));
  if (asked->details) {
    for (const Set& set : sets) Details(set);
  }
  for (const Set& set : sets) std::printf("seeds %s\n", set.name.c_str());
  for (const Row& row : Rows()) {
    if (!CanBeTold(row, sets.front())) continue;
    std::printf("%s\n  the study: %s\n", row.target, row.study);
    for (const Set& set : sets) std::printf("  here, seeds %s: %s\n", set.name.c_str(), row.reached(set).c_str());
  }
  for (const Set& set : sets) {
    std::printf("replayed %zu readings in %.1f s: %.0f a second\n", set.readings, set.seconds,
                static_cast<double>(set.readings) / set.seconds);
  }
  return 0;
}

}  // namespace
}  // namespace rindwatch::bench

int main(int count, char** words) { return rindwatch::bench::Run(count, words); }
