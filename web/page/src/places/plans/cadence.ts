// How often a care is asked, in words.
import type { PlanCare } from "../../api";
import { many, t } from "../../words";

type Cadenced = Pick<PlanCare, "every_days" | "times_a_week" | "on_day" | "morning_and_evening">;

export function cadenceWord(care: Cadenced): string {
  if (care.morning_and_evening) return t("cadence.morning and evening");
  if (care.every_days !== undefined) return care.every_days === 1 ? t("cadence.daily") : t("cadence.every", { days: care.every_days });
  if (care.times_a_week === 2) return t("cadence.week twice");
  if (care.times_a_week !== undefined) return many("cadence.week", care.times_a_week);
  if (care.on_day !== undefined) return t("cadence.once", { day: care.on_day });
  return t("cadence.together");
}

/** How many days late are no lateness, where the plan does not say: by the interval. */
export function usualTolerance(care: Cadenced): number {
  if (care.on_day !== undefined) return 2;
  const interval = care.every_days ?? (care.times_a_week === undefined ? 1 : 7 / care.times_a_week);
  if (care.morning_and_evening || interval < 2) return 0;
  return interval < 5 ? 1 : interval <= 10 ? 2 : 4;
}
