// How the alarms of the last month did, beside those that stand: nobody had to name yet what lasts or was not seen. Pure.
import type { Alarm, AlarmsPage, Instant } from "../../api";
import { isTold } from "../../parts/alarm_words";

const kMonth = 30 * 86_400_000;

type Month = AlarmsPage["month"][number];

/** Counted with those that rang: raised within the month, to act on, told by no other. */
const rang = (alarm: Alarm, now: Instant) =>
  alarm.raised > now - kMonth && (alarm.severity === "act" || alarm.severity === "urgent") && !isTold(alarm);

/** `above`: how many of those that rang stand above without a name. `standing`: what lasts, and what is over and not seen. */
export function monthBeside(month: Month[], standing: Alarm[], now: Instant): (Month & { above: number })[] {
  return month.map((one) => {
    const unnamed = standing.filter((alarm) => alarm.cave === one.cave && !alarm.what && rang(alarm, now)).length;
    return { ...one, above: Math.min(unnamed, one.rang) };
  }).filter((one) => one.above < one.rang || one.watch > 0);
}
