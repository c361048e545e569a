// The letters of this house: what an alarm, its end, a round says. Made from the facts of now by the loop; the words
// come from the words file alone.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "daemon/notices/letter.hpp"
#include "rules/notices/escalation.hpp"

namespace rindwatch {

class Letters {
 public:
  // `page`: the address that links lead to, without a slash at its end. Both outlive it.
  Letters(const ApiContext& context, const std::string& page) : context_(context), page_(page) {}

  // What was told before it.
  enum class Before { kNothing, kOthersToo };
  // Whether an alarm began to ask just now; if it did, that nobody has taken it yet is no news.
  enum class Asking { kAnew, kForAWhile };
  // `first`: of a repeat, when whoever hears it was told what to do first.
  Letter OfAlarm(const rules::Notice& notice, const rules::Alarm& alarm, Before before,
                 std::optional<rules::Instant> first = {}) const;
  // Of several; `late`: it was made a while ago. Alarms stand in the order in which they rang.
  struct Told {
    std::string kind;           // of the notice
    std::string subject;        // as it was made
    const rules::Alarm* alarm;  // as it is now; null: nobody knows it any more
    bool waited = false;        // it has asked for so long that somebody else would be called
  };
  Letter OfSeveral(const std::vector<Told>& told, bool late) const;
  // `told_until`: when its reader had been told what was over by then.
  Letter OfRound(bool evening, rules::Instant told_until) const;
  Letter OfTest() const;
  // Where an alarm stands on the page.
  std::string PageOf(const std::string& alarm) const;

 private:
  Letter Rings(const rules::Alarm& alarm, const std::string& subject_key, Asking asks,
               std::optional<rules::Instant> first = {}) const;
  Letter Taken(const rules::Alarm& alarm) const;
  Letter Over(const rules::Alarm& alarm) const;
  void SayWhatStandsThere(Letter& letter, const rules::Alarm& over) const;
  void Recount(Letter& letter, const rules::Alarm& alarm) const;
  void Describe(Letter& letter, const rules::Alarm& alarm, Asking asks, std::optional<rules::Instant> first = {}) const;
  std::string Head(const rules::Alarm& alarm) const;
  std::string ProbeWords(const rules::Alarm& alarm) const;
  std::string Standing(const rules::Alarm& alarm, Asking asks) const;
  void InOrder(std::vector<const rules::Alarm*>& alarms) const;
  void LeadToAll(Letter& letter, std::size_t count) const;
  std::string Besides(const rules::Alarm& alarm, Asking asks) const;
  std::string Title(const rules::Alarm& alarm) const;
  std::string MomentOf(rules::Instant at) const;
  Letter Marked(Letter letter, const rules::Alarm& alarm) const;
  std::string Whole(const std::string& text) const;
  std::string Subject(const std::string& text) const;

  const ApiContext& context_;
  const std::string& page_;
};

}  // namespace rindwatch
