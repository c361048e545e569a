#include "daemon/api/cadence_word.hpp"

namespace rindwatch {

std::string CadenceWord(const Words& words, const rules::Cadence& cadence) {
  struct Say {
    const Words& words;
    std::string operator()(const rules::EveryDays& every) const {
      if (every.days == 1) return words.Say("cadence.daily");
      return words.Say("cadence.every", {{"days", std::to_string(every.days)}});
    }
    std::string operator()(const rules::TimesAWeek& week) const {
      if (week.times == 2) return words.Say("cadence.week twice");
      return words.Count("cadence.week", static_cast<std::size_t>(week.times));
    }
    std::string operator()(const rules::OnceOnDay& once) const {
      return words.Say("cadence.once", {{"day", std::to_string(once.day)}});
    }
    std::string operator()(const rules::MorningAndEvening&) const { return words.Say("cadence.morning and evening"); }
    std::string operator()(const rules::OnlyTogether&) const { return {}; }
  };
  return std::visit(Say{words}, cadence);
}

}  // namespace rindwatch
