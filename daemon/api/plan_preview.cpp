#include <cmath>

#include "daemon/api/book_views.hpp"
#include "daemon/api/json.hpp"
#include "daemon/api/plan_changes.hpp"
#include "daemon/book/fields.hpp"
#include "daemon/book/judge_plan.hpp"
#include "rules/care/schedule.hpp"
#include "rules/round/pace.hpp"

namespace rindwatch {

namespace json = boost::json;
using json::object;

namespace {

constexpr int kDays = 30;

// Of the days ahead of one wheel, and the minutes of all wheels of its lot that follow the same version.
struct Days {
  json::array days;
  double minutes = 0;
};

Days DaysOf(const ApiContext& context, const WheelRow& wheel, const rules::WheelHistory& history, std::size_t count) {
  const Book& book = context.book();
  Days ahead;
  const rules::CareCalendar& calendar = book.CalendarOf(book.PlaceOf(wheel).cave);
  for (const rules::Ahead& day : rules::LookAhead(history, calendar, context.now(), kDays)) {
    ahead.days.push_back({{"day", DayJson(day.day)}, {"kinds", KindsJson(day.kinds)}});
    const double seconds = rules::UsualSeconds(day.kinds, book.WeightOf(wheel));
    ahead.minutes += seconds * static_cast<double>(count) / 60;
  }
  ahead.minutes = std::round(ahead.minutes * 10) / 10;
  return ahead;
}

// The wheel as it would go on under the plan from now on.
rules::WheelHistory Under(const WheelRow& wheel, std::shared_ptr<const rules::Plan> plan, rules::Instant now) {
  rules::WheelHistory history = wheel.History();
  history.plans.push_back({std::move(plan), now, "preview"});
  return history;
}

std::size_t AlikeInLot(const Book& book, const WheelRow& wheel) {
  return static_cast<std::size_t>(
      std::ranges::count_if(book.Wheels(), [&](const WheelRow* other) { return other->lot == wheel.lot; }));
}

const WheelRow* WheelOf(const Book& book, const object& wanted) {
  const auto id = fields::MaybeWhole(wanted, "wheel");
  if (!id) return nullptr;
  const WheelRow* wheel = book.Wheel(*id);
  if (wheel) return wheel;
  throw ActFault{"There is no such wheel in the book.", "wheel", "a wheel of the book", std::to_string(*id), ""};
}

json::array FaultsJson(const std::vector<rules::PlanFault>& faults) {
  json::array array;
  for (const rules::PlanFault& fault : faults) {
    array.push_back({{"line", fault.line}, {"field", fault.field}, {"what", fault.what}});
  }
  return array;
}

void AddChanges(const ApiContext& context, const object& wanted, const rules::Plan& plan, object& into) {
  json::array changed;
  const auto version = fields::MaybeWhole(wanted, "version").value_or(0);
  const auto base = context.book().Plan(fields::Text(wanted, "plan"), static_cast<int>(version));
  if (base) {
    for (const rules::PlanChange& change : rules::Differences(*base, plan)) {
      changed.push_back(json::string(ChangeWords(context.words, change)));
    }
    rules::Plan same = plan;
    same.version = base->version;
    into["same"] = same == *base;
  }
  into["changed"] = std::move(changed);
}

}  // namespace

object PlanPreviewJson(const ApiContext& context, const object& wanted) {
  const Book& book = context.book();
  const WheelRow* wheel = WheelOf(book, wanted);
  const PlanWanted found = WantedPlan(book, wanted);
  object preview{{"head", HeadJson(context)},
                 {"text", found.plan ? rules::WritePlan(*found.plan) : fields::AnyText(wanted, "text")},
                 {"faults", FaultsJson(found.faults)},
                 {"before", json::array{}},
                 {"after", json::array{}},
                 {"minutes_before", 0},
                 {"minutes_after", 0},
                 {"changed", json::array{}},
                 {"same", false}};
  if (found.plan) AddChanges(context, wanted, *found.plan, preview);
  if (!wheel) return preview;
  const std::size_t count = AlikeInLot(book, *wheel);
  Days before = DaysOf(context, *wheel, wheel->History(), count);
  preview["before"] = std::move(before.days);
  preview["minutes_before"] = preview["minutes_after"] = before.minutes;
  if (!found.plan) return preview;
  Days after = DaysOf(context, *wheel, Under(*wheel, found.plan, context.now()), count);
  preview["after"] = std::move(after.days);
  preview["minutes_after"] = after.minutes;
  return preview;
}

}  // namespace rindwatch
