// Who hears of what, and when: what a keeper chose, and what follows from it at an instant.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "rules/alarms/engine.hpp"
#include "rules/time.hpp"

namespace rindwatch::rules {

// By the clock on the wall, from midnight. A span that ends before it begins goes over midnight; one that ends where
// it begins is none.
struct QuietHours {
  std::chrono::minutes from{0}, to{0};
  bool operator==(const QuietHours&) const = default;
};

// Days on which a keeper hears nothing while another one can; `back` is the first day of hearing again.
struct Holiday {
  Date from, back;
  bool operator==(const Holiday&) const = default;
};

struct Hearer {
  std::string name;                   // initials; empty where one keeps alone
  Severity least = Severity::kWatch;  // what is less is not told
  std::optional<QuietHours> quiet{};  // hint and watch wait for their end; act and urgent sound
  std::vector<Holiday> holidays{};
};

bool IsAway(const Hearer& hearer, Date day);
// None: it is not quiet at `at`; else when it ends.
std::optional<Instant> QuietUntil(const Hearer& hearer, const Zone& zone, Instant at);

}  // namespace rindwatch::rules
