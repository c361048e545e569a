// How the book takes in what keepers say of a wheel beside its cares.
#include "daemon/book/book.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/law.hpp"
#include "daemon/book/newest.hpp"
#include "daemon/book/parts.hpp"
#include "daemon/book/spans.hpp"

namespace rindwatch {

namespace json = boost::json;

namespace {

std::optional<Mark> MarkFrom(const json::object& value) {
  if (value.at("what").is_null()) return std::nullopt;
  return Mark{fields::Text(value, "what"), fields::MaybeDay(value, "look_again")};
}

std::optional<rules::QualifyingRule> MaybeRule(const json::object& value) {
  const json::object* rule = fields::MaybeObject(value, "rule");
  if (!rule) return std::nullopt;
  return RuleFrom(*rule);
}

Release ReleaseFrom(const json::object& value) {
  const json::object* by = fields::MaybeObject(value, "override");
  if (!by) return {};
  return {rules::ReleaseOverride{fields::Text(*by, "name"), fields::Text(*by, "reason")}};
}

rules::Vouch VouchFrom(const rules::ActId& id, const json::object& value) {
  return {id, fields::Day(value, "from"), fields::Day(value, "to"), fields::Text(value, "name"),
          fields::Text(value, "reason")};
}

}  // namespace

void Book::TakeState(WheelRow& wheel, const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  const auto add = [&](auto& list, auto said) { list.push_back({fact.from, line.id, std::move(said)}); };
  if (fact.what == "hold") add(wheel.holds, Hold{fields::Truth(value, "held"), fields::TextOr(value, "why", "")});
  if (fact.what == "cut") add(wheel.cuts, Cut{fields::Number(value, "left"), fields::Text(value, "how")});
  if (fact.what == "lot") add(wheel.lots, fields::Whole(value, "lot"));
  if (fact.what == "band") add(wheel.bands, OwnBand{SpanFrom(value, "temperature"), SpanFrom(value, "humidity")});
  if (fact.what == "weighed") add(wheel.weighings, rules::Grams{fields::Number(value, "grams")});
  if (fact.what == "mark") {
    add(wheel.marks, MarkFrom(value));
    if (const auto& mark = wheel.marks.back().value)
      faults_.try_emplace(line.id, FaultSeen{mark->what, PlaceOf(wheel)});
  }
  if (fact.what == "rule") add(wheel.qualifying, MaybeRule(value));
  if (fact.what == "vouch") add(wheel.vouches, VouchFrom(line.id, value));
  if (fact.what == "release") add(wheel.releases, ReleaseFrom(value));
  if (fact.what == "later") add(wheel.laters, fields::Text(value, "question"));
  if (fact.what == "agreed") TakeAgreed(wheel, line, fact);
}

void Book::TakeAgreed(WheelRow& wheel, const JournalLine& line, const Fact& fact) {
  const json::object& value = fact.value.as_object();
  const auto kind = rules::CareKindFrom(fields::Text(value, "kind"));
  if (!kind) return;
  rules::AgreedCare agreed;
  // One act may agree on several cares; each has a name of its own.
  agreed.id = PartOf(line.id, wheel.History().agreed.size());
  agreed.kind = *kind;
  agreed.day = fields::Day(value, "day");
  agreed.stands_for = rules::CareKindFrom(fields::TextOr(value, "stands_for", ""));
  agreed.at = fact.from;
  lives_.Write(wheel.life, agreed);
}

void Book::SettleLot(WheelRow& wheel) {
  const auto* lot = NewestOf(*this, wheel.lots, wheel.id);
  // A wheel whose entry is undone stays with the lot that it came with.
  const LotId now = lot ? lot->value : wheel.lots.empty() ? 0 : wheel.lots.front().value;
  if (now == wheel.lot) return;
  if (wheel.lot != 0) --lot_sizes_[wheel.lot];
  ++lot_sizes_[now];
  wheel.lot = now;
}

}  // namespace rindwatch
