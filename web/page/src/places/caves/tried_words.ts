// What a trial of limits came to, in one sentence. Pure but for words.
import type { LimitsTrial } from "../../api";
import { many, numberWord, t } from "../../words";

const kDay = 86_400_000;
const kMonth = 30.44; // days, on the mean of the calendar

/** "the last 12 days"; from two months on "the last three months". */
function spanWord(from: number, to: number): string {
  const days = Math.max(1, Math.round((to - from) / kDay));
  if (days === 1) return t("limits.tried.day");
  const months = Math.round(days / kMonth);
  return months < 2 ? t("limits.tried.days", { count: days }) : t("limits.tried.months", { months: numberWord(months).toLowerCase() });
}

const times = (count: number) => (count <= 2 ? t(`limits.times.${count as 0 | 1 | 2}`) : t("limits.times", { count }));

/** Whether it would have rung for those alarms that the keeper called real; nothing where none was. */
function realWord(real: number, found: number): string {
  if (real === 0) return "";
  if (found === real) return real === 2 ? t("limits.real.both") : many("limits.real", real);
  return found === 0 ? many("limits.real none", real) : t("limits.real some", { found, real });
}

/** "With these limits the last three months would have rung once instead of 4 times, and rung for both that you called
    real."; empty where the house has not worked it out. */
export function triedWords({ from, to, then, now, real, real_found }: LimitsTrial): string {
  if (from === undefined || to === undefined || then === undefined || now === undefined) return "";
  const rung = now === then ? t("limits.tried.same", { now: times(now) }) : t("limits.tried.instead", { now: times(now), then: times(then) });
  return t("limits.tried", { span: spanWord(from, to), now: rung, real: realWord(real ?? 0, real_found ?? 0) });
}
