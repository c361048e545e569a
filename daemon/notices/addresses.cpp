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

void Notices::Readdress(const std::vector<Hearing>& hearings) {
  std::map<std::string, std::set<Address>> now;
  for (const Hearing& hearing : hearings) {
    std::set<Address>& addresses = now[hearing.Name()];
    if (!hearing.Hears()) continue;
    for (const std::string& address : hearing.mail) addresses.insert({"mail", address});
    for (const std::string& address : hearing.webhooks) addresses.insert({"webhook", address});
  }
  for (const auto& [name, before] : addresses_) {
    const std::set<Address> to = now[name];
    if (to == before) continue;
    std::vector<Address> added;
    std::ranges::set_difference(to, before, std::back_inserter(added));
    std::set<std::string> all;
    for (const auto& [way, address] : to) all.insert(way + " " + address);
    if (queue_.Readdress(name, all, added, context_.words.Say("outcome.left"))) continue;
    now[name] = before;
    scheduler_.WakeAt("notices to another address", context_.now() + kTogether, [this] { ReviewSoon(); });
  }
  addresses_ = std::move(now);
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
