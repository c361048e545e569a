// What waits for an address that its hearer no longer has.
#include <algorithm>
#include <utility>

#include "daemon/notices/queue.hpp"

namespace rindwatch {

using rules::Instant;

namespace {

std::string At(const std::string& way, const std::string& address) { return " | " + way + " " + address; }

// What it is about, whoever hears it by which address.
std::string About(const NoticeRow& row) {
  const std::string at = At(row.way, row.address);
  return row.key.ends_with(at) ? row.key.substr(0, row.key.size() - at.size()) : row.key;
}

bool Waits(const NoticeRow& row) { return row.state == "waiting" || row.state == "refused"; }

}  // namespace

void NoticeQueue::Hears(Addresses addresses) {
  if (hears_ == addresses) return;
  hears_ = std::move(addresses);
  Work();
}

bool NoticeQueue::IsLeft(const NoticeRow& row) const {
  if (!hears_) return false;
  const auto hearer = hears_->find(row.hearer);
  return hearer == hears_->end() || !hearer->second.contains({row.way, row.address});
}

// Wakes the queue when it will have.
bool NoticeQueue::HasStayedLeft(const Row& row) {
  const Instant now = clock_.Wall();
  Instant& since = left_since_.try_emplace(row, now).first->second;
  since = std::min(since, now);
  if (now - since >= kStays) return true;
  WakeAt(since + kStays);
  return false;
}

// To the addresses of its hearer that know nothing of it: what was given up with its address may be one of them again.
std::vector<NoticeRow> NoticeQueue::InItsPlace(const NoticeRow& row) {
  std::vector<NoticeRow> rows;
  const auto hearer = hears_->find(row.hearer);
  if (hearer == hears_->end()) return rows;
  for (const auto& [way, address] : hearer->second) {
    const std::string key = About(row) + At(way, address);
    const auto known = known_.find(key);
    if (known != known_.end() && !known->second.left) continue;
    NoticeRow& one = rows.emplace_back(row);
    one.number = known == known_.end() ? 0 : known->second.number;
    one.way = way;
    one.address = address;
    one.key = key;
    one.tries = 0;
    one.next_at.reset();
    one.why.clear();
    known_[key] = {row.made_at, one.number};
  }
  return rows;
}

void NoticeQueue::Readdress() {
  std::erase_if(left_since_, [this](const auto& one) { return !Waits(*one.first) || !IsLeft(*one.first); });
  Rows left;
  std::vector<NoticeRow> anew;
  for (const Row& row : rows_) {
    // What is on its way is looked at once that is settled.
    if (!Waits(*row) || !IsLeft(*row) || ways_[row->way + " " + row->address].busy) continue;
    if (!HasStayedLeft(row)) continue;
    std::vector<NoticeRow> instead = InItsPlace(*row);
    std::ranges::move(instead, std::back_inserter(anew));
    row->state = "given up";
    row->why = hooks_.left;
    row->done_at = clock_.Wall();
    row->next_at.reset();
    known_[row->key] = {row->made_at, row->number, true};
    left.push_back(row);
  }
  for (const Row& row : left) left_since_.erase(row);
  Close(left);
  if (!anew.empty()) Put(std::move(anew));
}

}  // namespace rindwatch
