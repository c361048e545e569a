#include "daemon/api/inside_end.hpp"

#include <chrono>

#include "daemon/morning/phrases.hpp"
#include "rules/alarms/first.hpp"

namespace rindwatch {

std::string InsideEndWords(const ApiContext& context, const rules::Alarm& alarm) {
  if (!alarm.over || !alarm.back_since || !rules::IsOfBand(alarm.kind)) return {};
  const CaveRow* cave = context.book().Cave(alarm.cave);
  const rules::Settings limits = rules::SettingsWith(cave ? cave->watching_now.own : rules::OwnSettings{});
  const auto inside = std::chrono::duration_cast<std::chrono::minutes>(
      std::chrono::duration<double, std::ratio<60>>(limits.off_inside));
  // One that came back by enough waited for less, or it would have ended by that.
  if (limits.off_after >= limits.off_inside || *alarm.over - *alarm.back_since < inside) return {};
  return context.words.Say("alarm.ended inside", {{"long", morning::LastsWords(context.words, inside)}});
}

}  // namespace rindwatch
