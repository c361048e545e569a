// Everything that a book tells, as text: two books are equal if their portraits are.
#pragma once

#include <fmt/format.h>

#include <boost/json.hpp>

#include <set>
#include <string>

#include "daemon/book/book.hpp"

namespace rindwatch::testing {

class Portrait {
 public:
  explicit Portrait(const Book& book, std::set<std::string> acts) : book_(book) {
    Caves();
    for (std::int64_t id = 1; id < book.NextWheel(); ++id) Wheel(id);
    for (std::int64_t id = 1; id < book.NextProbe(); ++id) Probe(id);
    for (const std::string& act : acts) Act(act);
    text_ += fmt::format("next {} {} {} {} {}, gone {}\n", book.NextCave(), book.NextLot(), book.NextWheel(),
                         book.NextProbe(), book.NextChannel(), book.GoneCount());
    for (const auto& plan : book.Offered()) {
      text_ += fmt::format("plan {} kept {} next {}\n", plan->id, book.IsPlanKept(plan->id, plan->version),
                           book.NextNumberOf(*plan));
    }
    House();
    for (const auto& [id, record] : book.AlarmRecords()) text_ += id + boost::json::serialize(record) + "\n";
    text_ += fmt::format("the engine hears {}\n", book.InputsOfAll().size());
  }
  const std::string& Text() const { return text_; }

 private:
  static std::string At(rules::Instant at) { return std::to_string(rules::ToMillis(at)); }
  static std::string Limit(const std::optional<rules::Figure>& limit) {
    return limit ? fmt::format("{}..{}", limit->low, limit->high) : "none";
  }
  template <typename Kinds>
  static std::string Words(const Kinds& kinds) {
    std::string text;
    for (const auto kind : kinds) text += fmt::format(" {}", rules::ToText(kind));
    return text;
  }

  void House() {
    for (const std::string& keeper : book_.Keepers()) text_ += "keeper " + keeper + "\n";
    text_ += fmt::format("by room {} feed {} absences {}\n", book_.IsByRoom(), !book_.FeedSecret().empty(),
                         book_.Absences().size());
    for (const CaveRow* cave : book_.Caves()) {
      const auto& calendar = book_.CalendarOf(cave->id);
      text_ += fmt::format("calendar {} {} {}\n", cave->id, calendar.care_days.size(), calendar.away.size());
    }
  }
  void Caves() {
    for (const CaveRow* cave : book_.Caves()) {
      text_ += fmt::format("cave {} {} {} in {} by {} limits {} {}\n", cave->id, ToText(cave->kind), cave->name,
                           cave->inside.value_or(0), cave->act.Text(), Limit(cave->limits_now.temperature),
                           Limit(cave->limits_now.humidity));
    }
  }
  void Wheel(std::int64_t id) {
    const WheelRow* wheel = book_.Wheel(id);
    text_ += fmt::format("wheel {}", id);
    if (!wheel) {
      text_ += " never was\n";
      return;
    }
    const Place place = book_.PlaceOf(*wheel);
    text_ += fmt::format(" {} lot {} {} g by {} at {} {} gone {} entered {}\n", book_.WheelName(*wheel),
                         book_.Lot(wheel->lot).name, wheel->weight.value, wheel->act.Text(), place.cave.value_or(0),
                         place.shelf, book_.IsGone(*wheel), At(wheel->History().entered));
    State(*wheel);
    History(wheel->History());
  }
  void State(const WheelRow& wheel) {
    const auto* hold = book_.HoldOf(wheel);
    const auto* cut = book_.CutOf(wheel);
    const OwnBand* band = book_.BandOf(wheel);
    const auto* rule = book_.RuleOf(wheel);
    text_ += fmt::format("  number {} held {} left {} band {} rule {} family {} weight {}\n", book_.NumberOf(wheel),
                         hold ? hold->value.why : "no", cut ? cut->value.left : 1,
                         band ? Limit(band->temperature) : "the plan's", rule ? rule->value->name : "none",
                         book_.FamilyOf(wheel), book_.WeightOf(wheel).value);
    for (const auto* mark : book_.MarksOf(wheel)) {
      text_ += fmt::format("  mark {} {}\n", mark->value->what,
                           mark->value->look_again ? rules::ToText(*mark->value->look_again) : "never");
    }
  }
  void History(const rules::WheelHistory& history) {
    for (const auto& plan : history.plans)
      text_ += fmt::format("  {} {} {}\n", plan.plan->id, At(plan.from), plan.id.Text());
    for (const auto& start : history.starts) {
      text_ += fmt::format("  {} {} {} {} {}\n", start.id.Text(), rules::ToText(start.kind), rules::ToText(start.day),
                           At(start.known_from), start.reckoned);
    }
    for (const auto& branch : history.branches)
      text_ += fmt::format("  {} {} {}\n", branch.id.Text(), branch.option, At(branch.at));
    for (const auto& act : history.acts) {
      text_ += fmt::format("  {} {} {} done{} skipped{} {}\n", act.id.Text(), At(act.at), At(act.known_from),
                           Words(act.done), Words(act.skipped), act.reason.Text());
    }
    for (const auto& agreed : history.agreed) {
      text_ += fmt::format("  {} {} {}\n", agreed.id.Text(), rules::ToText(agreed.kind), rules::ToText(agreed.day));
    }
    for (const auto& undo : history.undos)
      text_ += fmt::format("  {} of {} {}\n", undo.id.Text(), undo.of.Text(), At(undo.at));
    text_ += fmt::format("  gone {}\n", history.gone ? At(*history.gone) : "no");
  }
  void Probe(std::int64_t id) {
    const ProbeRow* probe = book_.Probe(id);
    text_ += fmt::format("probe {}", id);
    if (!probe) {
      text_ += " never was\n";
      return;
    }
    text_ += fmt::format(" {} {} in {}\n", probe->name, probe->route.filter, book_.HangsIn(*probe).value_or(0));
    for (const auto& channel : probe->route.channels) {
      text_ += fmt::format("  {} {} {} {}\n", channel.channel, sensors::NameOf(channel.kind), channel.pointer,
                           sensors::ToText(channel.unit));
    }
  }
  void Act(const std::string& act) {
    text_ += fmt::format("act {} undone {} wheels", act, book_.IsUndone(act));
    for (const auto wheel : book_.WheelsOf(act))
      text_ += fmt::format(" {}{}", wheel, book_.IsUndone(act, wheel) ? "u" : "");
    if (const std::string* what = book_.CalledAs(act)) text_ += " called " + *what;
    if (const std::string* keeper = book_.KeeperOf(act)) text_ += " by " + *keeper;
    text_ += "\n";
  }

  const Book& book_;
  std::string text_;
};

}  // namespace rindwatch::testing
