// What has to be known before any step: whether somebody is in there, how dangerous gas is, and what the watch itself
// lacks. Sentences, for page and letter alike; the loop's thread.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "daemon/api/context.hpp"
#include "rules/alarms/engine.hpp"

namespace rindwatch {

// Whether the figure of a standing alarm of gas is one of now: a probe of that gas speaks in its cave.
bool IsGasKnown(const ApiContext& context, const rules::Alarm& alarm);

// What each gas that is measured in a cave is now: "16000 ppm carbon dioxide", "ammonia: nobody knows".
std::vector<std::string> GasWords(const ApiContext& context, rules::CaveId cave);

// Who said to be in a cave, in what stands in it or around it, and not yet to be out: the last who said so last. Empty:
// nobody is there, or one keeps alone.
std::vector<std::string> WhoIsHere(const ApiContext& context, rules::CaveId cave);

// How bad the gas of an alarm is by the figure of now: kHint, it is low again; none, nobody knows.
std::optional<rules::Severity> GasNow(const ApiContext& context, const rules::Alarm& alarm);

// While a probe is silent: another one of the same place says how warm it is there, so that not nothing is known.
bool IsHeardBeside(const ApiContext& context, const rules::Alarm& alarm);

// Silence of all probes at once is the broker's, as far as anybody can tell, where none answers.
bool IsPerhapsOfBroker(const ApiContext& context, const rules::Alarm& alarm);

// "IH said at 09:12 to be there, and not yet to be out.", where gas stands or nobody knows of it; empty: nobody did, or
// there is no question of gas.
std::string WhoMayBeIn(const ApiContext& context, const rules::Alarm& alarm);
// They by their names; empty: somebody without one. None: nobody said so, or there is no question of gas.
std::optional<std::vector<std::string>> MayBeIn(const ApiContext& context, const rules::Alarm& alarm);

// Of gas that lasts: the alarm of another one in the same air that is worse by the figures of now.
std::optional<rules::Alarm> WorseGasBeside(const ApiContext& context, const rules::Alarm& alarm);

// None of what is over; of people first.
std::vector<std::string> WarningsOf(const ApiContext& context, const rules::Alarm& alarm);
// Of gas that is over: who had said to be there and never to be out. Empty: nobody, or it is of no gas.
std::string WhoWasIn(const ApiContext& context, const rules::Alarm& alarm);
// Of gas that was urgent: it is by its figure of now, or nobody knows, whoever took it.
bool IsStillUrgent(const ApiContext& context, const rules::Alarm& alarm);
// Of gas of which nobody knows now: what was said of it last. None: it is known, or nothing ever was.
std::optional<double> LastOfUnknownGas(const ApiContext& context, const rules::Alarm& alarm);
// The same without who may be in there, where that is told already.
std::vector<std::string> WarningsBesideWho(const ApiContext& context, const rules::Alarm& alarm);

}  // namespace rindwatch
