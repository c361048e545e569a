// The plans that the book knows: those of the library and those that lie in the journal.
#include <algorithm>

#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"

namespace rindwatch {

std::shared_ptr<const rules::Plan> Book::Plan(const std::string& id, int version) const {
  const auto found = plans_.find({id, version});
  return found == plans_.end() ? nullptr : found->second;
}

std::vector<std::shared_ptr<const rules::Plan>> Book::Offered() const {
  std::vector<std::string> ids;
  for (const rules::Plan& plan : rules::PlanLibrary()) ids.push_back(plan.id);
  for (const auto& [key, plan] : plans_) {
    if (std::ranges::find(ids, key.first) == ids.end()) ids.push_back(key.first);
  }
  std::vector<std::shared_ptr<const rules::Plan>> offered;
  for (const std::string& id : ids) {
    const auto versions = VersionsOf(id);
    if (!versions.empty()) offered.push_back(Plan(id, versions.back().version));
  }
  return offered;
}

bool Book::IsPlanKept(const std::string& id, int version) const { return kept_plans_.contains({id, version}); }

std::string Book::PlanFile(const rules::Plan& plan) const {
  const auto kept = kept_plans_.find({plan.id, plan.version});
  return kept == kept_plans_.end() ? rules::TextOf(plan) : kept->second.text;
}

std::vector<Book::PlanVersion> Book::VersionsOf(const std::string& id) const {
  std::vector<PlanVersion> versions;
  for (auto known = plans_.lower_bound({id, 0}); known != plans_.end() && known->first.first == id; ++known) {
    if (!IsPlanThere(id, known->first.second)) continue;
    const auto kept = kept_plans_.find(known->first);
    versions.push_back({known->first.second, kept == kept_plans_.end() ? nullptr : &kept->second});
  }
  return versions;
}

// An undone version keeps its number: somebody may have seen it.
int Book::NextVersionOf(const std::string& id) const {
  const auto after = plans_.upper_bound({id, std::numeric_limits<int>::max()});
  if (after == plans_.begin() || std::prev(after)->first.first != id) return 1;
  return std::prev(after)->first.second + 1;
}

bool Book::IsPlanThere(const std::string& id, int version) const {
  const auto kept = kept_plans_.find({id, version});
  return kept == kept_plans_.end() || !kept->second.is_new || !IsUndone(kept->second.act);
}

void Book::TakePlanText(const JournalLine& line, const Fact& fact) {
  const boost::json::object& value = fact.value.as_object();
  const std::string id = fields::Text(value, "plan");
  const int version = static_cast<int>(fields::Whole(value, "version"));
  const std::string text(value.at("text").as_string());
  rules::PlanReading read = rules::ReadPlan(text, id);
  if (read.plan) plans_[{id, version}] = std::make_shared<const rules::Plan>(std::move(*read.plan));
  kept_plans_[{id, version}] = {line.id, fact.from, line.keeper, text, line.kind == "plan text"};
}

}  // namespace rindwatch
