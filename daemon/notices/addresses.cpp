// Where keepers are reached: what becomes of a letter to an address, and of what waits for one that is left.
#include <algorithm>

#include "daemon/notices/notices.hpp"
#include "daemon/notices/rows.hpp"

namespace rindwatch {

using rules::Instant;

void Notices::NoteOutcome(const NoticeRow& row) {
  const std::pair address{row.way, row.address};
  if (row.state == "sent") unreached_.erase(address);
  // That a list's day is over, or nobody hears there any more, says nothing of the address.
  const bool closed =
      row.why == context_.words.Say("outcome.day over") || row.why == context_.words.Say("outcome.left");
  if (row.state == "refused" || (row.state == "given up" && !closed))
    unreached_.try_emplace(address, row.done_at.value_or(row.made_at));
}

NoticeQueue::Addresses Notices::AddressesNow() const {
  NoticeQueue::Addresses addresses;
  for (const Hearing& hearing : context_.book().Hearings()) {
    std::set<Address>& all = addresses[hearing.Name()];
    if (!hearing.Hears()) continue;
    for (const std::string& address : hearing.mail) all.insert({"mail", address});
    for (const std::string& address : hearing.webhooks) all.insert({"webhook", address});
  }
  return addresses;
}

// What a letter told as over, though it was to tell that it rings, has been told there.
void Notices::NoteEnded(const NoticeRow& row) {
  if (!Reached(row) || row.letter.empty()) return;
  const Letter letter = LetterFrom(row.letter);
  if (letter.ended.empty()) return;
  for (const std::string& alarm : letter.ended) told_ended_[{row.way, row.address}].try_emplace(alarm, row.number);
}

std::optional<std::int64_t> Notices::ToldEndBy(const std::string& alarm, const Address& address) const {
  const auto ended = told_ended_.find(address);
  if (ended == told_ended_.end()) return std::nullopt;
  const auto letter = ended->second.find(alarm);
  return letter == ended->second.end() ? std::nullopt : std::optional(letter->second);
}

std::map<std::string, Instant> Notices::Unreached() const {
  std::map<std::string, Instant> addresses;
  const auto add = [&](const char* way, const std::vector<std::string>& those) {
    for (const std::string& address : those) {
      const auto found = unreached_.find({way, address});
      if (found != unreached_.end()) addresses.insert({address, found->second});
    }
  };
  for (const Hearing& hearing : context_.book().Hearings()) {
    if (!hearing.Hears()) continue;
    add("mail", hearing.mail);
    add("webhook", hearing.webhooks);
  }
  return addresses;
}

}  // namespace rindwatch
