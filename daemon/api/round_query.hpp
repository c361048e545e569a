// "?date=2026-11-28&minutes=15": which round is asked for.
#pragma once

#include <functional>

#include "daemon/api/views.hpp"
#include "web/router.hpp"

namespace rindwatch {

// Answers with what `make` makes of the question, or with a complaint about it.
void AnswerRoundAsk(const web::Request& request, const web::Answer& answer, rules::Date today,
                    const std::function<web::Response(const RoundAsk&)>& make);
// "?days=40": how many days of a calendar; half a year without it.
void AnswerDaysAsk(const web::Request& request, const web::Answer& answer,
                   const std::function<web::Response(int)>& make);

}  // namespace rindwatch
