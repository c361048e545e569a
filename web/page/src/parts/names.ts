// Names put together: cares, wheels, days as a keeper says them.
import type { CareKind, Day, Wheel } from "../api";
import { daysBetween, shortDate, weekday } from "../days";
import { listed } from "../figures";
import { t } from "../words";

export const careWords = (kinds: CareKind[]) => listed(kinds.map((k) => t(`care.${k}`)));
export const caredWords = (kinds: CareKind[]) => listed(kinds.map((k) => t(`cared.${k}`)));

/** "6 bloomies, Box 1; 4 wrapped, Box 1" */
export function wheelsOf(groups: { count: number; family: string; cave_name?: string }[]): string {
  return groups.map((g) => `${g.count} ${g.family}${g.cave_name ? `, ${g.cave_name}` : ""}`).join("; ");
}

/** "today", "Tuesday", "12 Dec": a day near another by its weekday, else its date. */
export function dayWord(day: Day, today: Day): string {
  const away = daysBetween(today, day);
  if (away === 0) return t("day.today");
  if (away === 1) return t("day.tomorrow");
  if (away === -1) return t("day.yesterday");
  return Math.abs(away) < 7 ? weekday(day) : shortDate(day);
}

/** The same where only the past counts: "Tuesday", never "today". */
export const lateWord = (day: Day, today: Day) => (daysBetween(day, today) < 7 ? weekday(day) : shortDate(day));

/** "day 7 since dry, 19 Nov", "reckoned" where nobody has seen it. */
export function countsWords(wheel: Pick<Wheel, "day" | "counts_from">): string {
  const { start, day, reckoned } = wheel.counts_from;
  return joined(t(`counts.${start}`, { day: wheel.day, date: shortDate(day) }), reckoned && t("wheels.reckoned"));
}

/** "lot 221" or nothing. */
export const lotWord = (lot: string | undefined) => (lot ? t("round.lot", { lot }) : "");
export const joined = (...parts: (string | undefined | false)[]) => parts.filter(Boolean).join(", ");
