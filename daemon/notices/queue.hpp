// What waits to be said, on disk and in memory: sent by one address after the other, tried again with growing
// distances, folded where much has gathered. Lives with the notices; the loop's thread.
//
//   waiting --(the other side is ready, and the store knows)--> handing --> sent
//      ^  '--> folded: went together with another, is told by a list, or was overtaken by a newer one
//      '-- not now, within three days; else given up      handing --> doubtful: no last word came, or the watch ended
//                                                                     just then; never sent again
//   refused: as waiting, for an address that is none today may be one tomorrow. It goes after what waits, so that a
//   letter which is refused for itself holds up no other, and as soon as anything goes through.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "daemon/clock/scheduler.hpp"
#include "daemon/notices/carrier.hpp"
#include "daemon/notices/letter.hpp"
#include "daemon/store/store.hpp"

namespace rindwatch {

class NoticeQueue {
 public:
  // What goes out within so long is one letter.
  static constexpr rules::Millis kGather = std::chrono::seconds{3};
  // Between two letters to one address.
  static constexpr rules::Millis kBetween = std::chrono::seconds{30};
  static constexpr rules::Millis kLongest = std::chrono::hours{72};
  // A change of address that is undone before was none.
  static constexpr rules::Millis kStays = std::chrono::minutes{1};
  // What is older speaks of the past.
  static constexpr rules::Millis kFresh = std::chrono::minutes{10};

  struct Hooks {
    // The one letter that says what these rows do, oldest first; called when it goes.
    std::function<Letter(const std::vector<const NoticeRow*>&)> letter_of;
    // For the carrier; none: there is no way to this address, and `why` says so.
    std::function<std::optional<Parcel>(const NoticeRow& row, const Letter& letter, std::string& why)> parcel_of;
    std::function<void(const NoticeRow&)> on_change;  // after anything changed
    // Until when rows of alarms can rest, for nothing in them asks any more and it is a quiet hour; none: they go.
    // Or until when a list can, that comes late and would go into them.
    std::function<std::optional<rules::Instant>(const std::vector<const NoticeRow*>&)> rests_until = {};
    std::string day_over{};  // said of a list whose day is over before it could go
    std::string left{};      // said of what waits for an address that its hearer no longer has
    // Of a row that waits: the number of the notice by which its address has been told that by now; none: it has not.
    std::function<std::optional<std::int64_t>(const NoticeRow&)> told_by = {};
    // Whether a list of the same minute says all that this row does.
    std::function<bool(const NoticeRow&)> list_tells = {};
  };

  // `carrier` null: nothing is sent, and what would have gone is shown.
  NoticeQueue(Store& store, Scheduler& scheduler, const rules::Clock& clock, Carrier* carrier, Hooks hooks);

  // What an earlier life kept, and of that what it left open.
  void Load(std::vector<NoticeRow> kept);
  void Put(std::vector<NoticeRow> rows);
  // By which ways and addresses each hearer hears from now on. What is open to another one does not go; once that has
  // been so for a while, for a change may be undone, it goes to those of them that were not told of it, and without any
  // it is given up.
  using Addresses = std::map<std::string, std::set<std::pair<std::string, std::string>>>;
  void Hears(Addresses addresses);
  // Frees the key of a row that a wrong clock made.
  void Rename(NoticeRow row);
  // The clock went back, or something may go now.
  void Work();
  // Something went through to an address: what it refused is tried again at once.
  void GoesThrough(const std::string& way, const std::string& address);
  std::size_t Waiting() const { return rows_.size(); }
  // Since when something waits that could not be sent when it was tried, for longer than a hiccup; none: nothing does.
  std::optional<rules::Instant> StuckSince() const;
  static rules::Millis BackOff(int tries);  // until the next try after so many

 private:
  using Row = std::shared_ptr<NoticeRow>;
  struct Way {
    bool busy = false;
    std::optional<rules::Instant> not_before, last;
  };
  using Rows = std::vector<Row>;

  void Keep(const Rows& rows, std::function<void()> then);
  void WorkOn(const std::string& address, const Rows& waiting);
  std::optional<rules::Instant> ReadyAt(Way& way, const Rows& waiting) const;
  Rows Choose(const Rows& waiting);
  std::optional<rules::Instant> RestsUntil(const Rows& chosen) const;
  static std::vector<const NoticeRow*> Views(const Rows& rows);
  void Send(const std::string& address, Rows rows);
  void Show(const std::string& address, const Rows& rows);
  void OnOutcome(const std::string& address, const Rows& rows, const Outcome& outcome);
  void Settle(NoticeRow& row, const Outcome& outcome, const NoticeRow& first);
  void TryRefused(const std::string& address);
  void FoldOvertaken(const std::string& address, const Rows& told);
  void FoldTold();
  Rows FoldIntoList(const Rows& waiting);
  bool IsLeft(const NoticeRow& row) const;
  void Readdress();
  bool HasStayedLeft(const Row& row);
  std::vector<NoticeRow> InItsPlace(const NoticeRow& row);
  void Close(const Rows& rows);
  void WakeAt(rules::Instant at);

  Store& store_;
  Scheduler& scheduler_;
  const rules::Clock& clock_;
  Carrier* carrier_;
  Hooks hooks_;
  Rows rows_;                        // open ones, in the order in which they were made
  Rows unkept_;                      // that the store refused; written again
  std::map<std::string, Way> ways_;  // by way and address
  // What was made as long ago as anything may be open, by its key; `left`: given up with its address.
  struct Known {
    rules::Instant made_at;
    std::int64_t number = 0;
    bool left = false;
  };
  std::map<std::string, Known> known_;
  std::optional<Addresses> hears_;            // none: nobody has said
  std::map<Row, rules::Instant> left_since_;  // what is open to an address that its hearer no longer has
  std::optional<rules::Instant> wake_;
};

}  // namespace rindwatch
