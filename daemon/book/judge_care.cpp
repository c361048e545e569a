#include "daemon/book/judge_care.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "daemon/book/beginning.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::CareKind;
using rules::StartKind;

namespace {

// The first doing of such a care is a start event.
constexpr std::pair<CareKind, StartKind> kBeginnings[] = {{CareKind::kPierce, StartKind::kPierced},
                                                          {CareKind::kWrap, StartKind::kWrapped},
                                                          {CareKind::kWax, StartKind::kWaxed}};

void CheckKinds(const std::vector<CareKind>& done, const std::vector<CareKind>& skipped, const std::string& reason) {
  if (done.empty() && skipped.empty()) {
    throw ActFault{"A care says what was done or skipped.", "done", "at least one care", "none", ""};
  }
  if (!skipped.empty() && reason.empty()) {
    throw ActFault{"A care that is skipped needs a reason.", "reason", "a reason such as \"rind wet\"", "none", ""};
  }
  for (const CareKind kind : done) {
    if (std::ranges::find(skipped, kind) != skipped.end()) {
      throw ActFault{fmt::format("\"{}\" cannot be both done and skipped.", rules::ToText(kind)), "skipped",
                     "other cares than those done", std::string(rules::ToText(kind)), ""};
    }
  }
}

// Those that were left out stay due; why goes into the journal.
void CheckLeftOut(const Book& book, const object& body, const JournalLine& line) {
  const object* left = fields::MaybeObject(body, "left");
  if (!left) return;
  fields::TextOr(*left, "why", "");
  for (const rules::WheelId id : fields::Wheels(*left, "wheels")) {
    if (!book.Wheel(id)) {
      throw ActFault{fmt::format("There is no wheel {} in the book.", id), "left", "wheels of the book",
                     std::to_string(id), "Load the page anew; another phone may have taken it away."};
    }
    if (!std::ranges::binary_search(line.wheels, id)) continue;
    throw ActFault{fmt::format("{} cannot be both done and left out.", book.WheelName(*book.Wheel(id))), "left",
                   "other wheels than those done", std::to_string(id), ""};
  }
}

void CheckWeight(const object& body, const JournalLine& line, const std::vector<CareKind>& done) {
  const auto grams = fields::MaybeNumber(body, "grams");
  if (!grams) return;
  if (std::ranges::find(done, CareKind::kWeigh) == done.end()) {
    throw ActFault{"A weight comes with a weighing.", "grams", "\"weigh\" among the cares done", "another care", ""};
  }
  if (line.wheels.size() != 1) {
    throw ActFault{"A weight belongs to one wheel.", "wheels", "one wheel", std::to_string(line.wheels.size()),
                   "Weigh them one by one."};
  }
  // A cut wheel may weigh less than any that enters.
  if (*grams < 1 || *grams > 100'000) {
    throw ActFault{"A wheel weighs between 1 g and 100 kg.", "grams", "1 to 100000", fmt::format("{}", *grams), ""};
  }
}

void CheckClears(const object& body, const std::vector<CareKind>& done) {
  if (!fields::TruthOr(body, "clears", false)) return;
  if (std::ranges::find(done, CareKind::kLook) != done.end()) return;
  throw ActFault{"A mark goes away when a look finds that the fault is gone.", "clears",
                 "\"look\" among the cares done", "another care", ""};
}

bool HasStart(const Book& book, const WheelRow& wheel, StartKind kind) {
  return std::ranges::any_of(wheel.History().starts, [&](const rules::StartEvent& start) {
    return start.kind == kind && !book.IsUndone(start.id, wheel.id);
  });
}

void GiveBeginnings(const Book& book, const JournalLine& line, const std::vector<CareKind>& done, object& given) {
  json::array begins;
  for (const auto& [care, start] : kBeginnings) {
    if (std::ranges::find(done, care) == done.end()) continue;
    json::array wheels;
    for (const rules::WheelId id : line.wheels) {
      if (!HasStart(book, *book.Wheel(id), start)) wheels.push_back(id);
    }
    if (wheels.empty()) continue;
    begins.push_back(Beginning(start, book.Home().DayOf(line.at), false, std::move(wheels)));
  }
  if (!begins.empty()) given["begins"] = std::move(begins);
}

}  // namespace

void GiveVersions(const Book& book, const JournalLine& line, object& given) {
  std::map<std::pair<std::string, int>, json::array> followed;
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    const auto standing = rules::StandingAt(wheel.History(), book.CalendarOf(line.cave), line.at);
    if (standing.plan) followed[{standing.plan->id, standing.plan->version}].push_back(id);
  }
  json::array under;
  for (auto& [plan, wheels] : followed) {
    under.push_back({{"plan", plan.first}, {"version", plan.second}, {"wheels", std::move(wheels)}});
  }
  if (!under.empty()) given["under"] = std::move(under);
}

object JudgeCare(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  const auto done = fields::Kinds(body, "done"), skipped = fields::Kinds(body, "skipped");
  CheckKinds(done, skipped, fields::TextOr(body, "reason", ""));
  CheckLeftOut(book, body, line);
  CheckWeight(body, line, done);
  CheckClears(body, done);
  object given;
  GiveVersions(book, line, given);
  GiveBeginnings(book, line, done, given);
  return given;
}

}  // namespace rindwatch
