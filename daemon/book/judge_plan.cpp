#include "daemon/book/judge_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "daemon/book/beginning.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/naming.hpp"
#include "daemon/book/plan_edits.hpp"
#include "rules/care/starts_behind.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;
using rules::Plan;

namespace {

constexpr std::size_t kLongestText = 200'000;
constexpr std::size_t kLongestName = 80;

std::shared_ptr<const Plan> PlanNamed(const Book& book, const object& body) {
  const std::string id = fields::Text(body, "plan");
  const auto version = fields::Whole(body, "version");
  const bool sound = version >= 1 && version <= std::numeric_limits<int>::max();
  if (auto plan = sound ? book.Plan(id, static_cast<int>(version)) : nullptr) return plan;
  throw ActFault{fmt::format("There is no plan \"{}\", version {}.", id, version), "plan", "a plan of the book",
                 fmt::format("{}, version {}", id, version), "Load the page anew."};
}

[[noreturn]] void Throw(const std::vector<rules::PlanFault>& faults) {
  // What is missing has no line; a wrong word in one is mostly why.
  const auto in_line = std::ranges::find_if(faults, [](const rules::PlanFault& fault) { return fault.line > 0; });
  const rules::PlanFault& first = in_line == faults.end() ? faults.front() : *in_line;
  const std::string line = first.line > 0 ? fmt::format("Line {}, ", first.line) : std::string{};
  const std::string more = faults.size() > 1 ? fmt::format(" There are {} more.", faults.size() - 1) : std::string{};
  throw ActFault{fmt::format("{}{}: {}.{}", line, first.field, first.what, more), first.field, "a sound plan",
                 first.what, "Correct it and save it again."};
}

// "My own tomme": "my-own-tomme", or with a number behind it where another plan is called so.
std::string FreeId(const Book& book, const std::string& name) {
  std::string id;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) != 0 && byte < 128) {
      id += static_cast<char>(std::tolower(byte));
    } else if (!id.empty() && id.back() != '-') {
      id += '-';
    }
  }
  while (id.ends_with('-')) id.pop_back();
  if (id.empty()) id = "plan";
  if (book.NextVersionOf(id) == 1) return id;
  for (int number = 2;; ++number) {
    std::string numbered = fmt::format("{}-{}", id, number);
    if (book.NextVersionOf(numbered) == 1) return numbered;
  }
}

void NameCopy(const Book& book, const std::string& name, Plan& plan) {
  if (name.size() > kLongestName) {
    throw ActFault{fmt::format("The name of a plan is at most {} bytes long.", kLongestName), "copy_as",
                   fmt::format("at most {} bytes", kLongestName), name, ""};
  }
  for (const auto& other : book.Offered()) {
    if (other->family != name) continue;
    throw ActFault{fmt::format("There is a plan called \"{}\" already.", name), "copy_as", "a name that is free", name,
                   "Choose another name."};
  }
  plan.id = FreeId(book, name);
  plan.family = name;
}

// What the text says, but for id and version; of a plan that nobody knows yet, the id too.
PlanWanted ReadText(const object& body) {
  const std::string text = fields::LongText(body, "text", kLongestText);
  rules::PlanReading read = rules::ReadPlan(text, fields::Text(body, "plan"));
  PlanWanted wanted{nullptr, std::move(read.faults)};
  if (read.plan) wanted.plan = std::make_shared<const Plan>(std::move(*read.plan));
  return wanted;
}

bool Has(const object& body, const char* name) { return body.contains(name) && !body.at(name).is_null(); }

PlanWanted Changed(const Book& book, const object& body) {
  if (Has(body, "text") && Has(body, "edits")) {
    throw ActFault{"A new version comes of edits or of a text, not of both.", "edits", "either edits or text", "both",
                   ""};
  }
  if (Has(body, "text")) return ReadText(body);
  const auto base = PlanNamed(book, body);
  if (!Has(body, "edits")) {
    if (Has(body, "copy_as")) return {base, {}};
    throw ActFault{"A new version says what changes.", "edits", "edits, a text or a name for a copy", "none", ""};
  }
  const auto edits = PlanEditsFrom(body);
  auto applied = rules::Apply(*base, edits);
  if (auto* faults = std::get_if<std::vector<rules::PlanFault>>(&applied)) return {nullptr, std::move(*faults)};
  return {std::make_shared<const Plan>(std::get<Plan>(std::move(applied))), {}};
}

}  // namespace

PlanWanted WantedPlan(const Book& book, const object& body) {
  PlanWanted wanted = Changed(book, body);
  if (!wanted.plan) return wanted;
  Plan plan = *wanted.plan;
  const std::string id = fields::Text(body, "plan");
  if (Has(body, "copy_as")) {
    NameCopy(book, fields::Text(body, "copy_as"), plan);
  } else if (book.NextVersionOf(id) > 1) {
    plan.id = id;
  } else if (plan.id != id) {
    throw ActFault{fmt::format("The text is of the plan \"{}\".", plan.id), "plan", plan.id, id, ""};
  }
  plan.version = book.NextVersionOf(plan.id);
  wanted.faults = rules::CheckPlan(plan);
  wanted.plan = wanted.faults.empty() ? std::make_shared<const Plan>(std::move(plan)) : nullptr;
  return wanted;
}

void GiveStarts(const Book& book, const JournalLine& line, const Plan& plan, object& given) {
  // Wheels that were made together mostly stand together: one beginning for all of them.
  std::map<std::tuple<rules::StartKind, rules::Date, bool>, json::array> begun;
  for (const rules::WheelId id : line.wheels) {
    const WheelRow& wheel = *book.Wheel(id);
    const auto calendar = book.CalendarOf(book.PlaceOf(wheel).cave);
    for (const auto& start : rules::StartsBehind(wheel.History(), plan, calendar.turn, line.at)) {
      begun[{start.kind, start.day, start.reckoned}].push_back(id);
    }
  }
  json::array begins;
  for (auto& [start, wheels] : begun) {
    const auto& [kind, day, reckoned] = start;
    begins.push_back(Beginning(kind, day, reckoned, std::move(wheels)));
  }
  if (!begins.empty()) given["begins"] = std::move(begins);
}

object JudgePlan(const Book& book, const object& body, JournalLine& line) {
  NameWheels(book, body, line);
  const auto plan = PlanNamed(book, body);
  object given;
  if (!book.IsPlanKept(plan->id, plan->version)) given["plan_text"] = rules::TextOf(*plan);
  GiveStarts(book, line, *plan, given);
  return given;
}

object JudgePlanText(const Book& book, const object& body, JournalLine& line) {
  if (Has(body, "wheels") && !fields::Array(body, "wheels").empty()) NameWheels(book, body, line);
  const PlanWanted wanted = WantedPlan(book, body);
  if (!wanted.faults.empty()) Throw(wanted.faults);
  object given{
      {"plan", wanted.plan->id}, {"version", wanted.plan->version}, {"plan_text", rules::WritePlan(*wanted.plan)}};
  GiveStarts(book, line, *wanted.plan, given);
  return given;
}

}  // namespace rindwatch
