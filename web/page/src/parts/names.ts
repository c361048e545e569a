// Names put together: cares, wheels, days as a keeper says them.
import type { CareKind, Day, StartWord, Wheel } from "../api";
import { dayOfMonth, daysBetween, shortDate, weekday } from "../days";
import { listed } from "../figures";
import { named, t, whole } from "../words";

export const careWords = (kinds: CareKind[]) => listed(kinds.map((k) => t(`care.${k}`)));
export const caredWords = (kinds: CareKind[]) => listed(kinds.map((k) => t(`cared.${k}`)));

function shortOf(family: string): string {
  const short = family.split(",")[0]!;
  return short.charAt(0).toLowerCase() + short.slice(1);
}

/** "Pressed semi-hard, brine-washed" after a count: "pressed semi-hard". */
export const kin = (family: string): string => whole(shortOf(family));

/** The same after a count of wheels: 6 "bloomies", 1 "bloomy", 4 "pressed semi-hard". */
export const kinOf = (family: string, count: number) => whole(named("family", shortOf(family), count));

/** "6 bloomies, Box 1; 4 pressed, Box 2" */
export function wheelsOf(groups: { count: number; family: string; cave_name?: string }[]): string {
  return groups.map((g) => `${g.count} ${kinOf(g.family, g.count)}${g.cave_name ? `, ${g.cave_name}` : ""}`).join("; ");
}

/** "today", "Tuesday", "12 Dec": a day near another by its weekday, else its date. */
export function dayWord(day: Day, today: Day): string {
  const away = daysBetween(today, day);
  if (away === 0) return t("day.today");
  if (away === 1) return t("day.tomorrow");
  if (away === -1) return t("day.yesterday");
  return Math.abs(away) < 7 ? weekday(day) : dateWord(day, today);
}

/** "29 Oct", and the year where it is another: "29 Oct 2028". */
export const dateWord = (day: Day, today: Day) => (day.slice(0, 4) === today.slice(0, 4) ? shortDate(day) : `${shortDate(day)} ${day.slice(0, 4)}`);

/** "13 to 15 Oct", "30 Oct to 2 Nov", or one day: "13 Oct". */
export function daySpan(from: Day, to: Day): string {
  if (from === to) return shortDate(from);
  return t("span", { low: from.slice(0, 7) === to.slice(0, 7) ? dayOfMonth(from) : shortDate(from), high: shortDate(to) });
}

/** The same where only the past counts: "Tuesday", never "today". */
export const lateWord = (day: Day, today: Day) => (daysBetween(day, today) < 7 ? weekday(day) : dateWord(day, today));

/** "day 7 since dry, 19 Nov", "reckoned" where nobody has seen it. */
export function countsWords(wheel: Pick<Wheel, "day" | "counts_from">): string {
  const { start, day, reckoned } = wheel.counts_from;
  return joined(t(`counts.${start}`, { day: wheel.day, date: shortDate(day) }), reckoned && t("wheels.reckoned"));
}

/** "day 26"; in the first days of a later part since what: "day 2 in the box". */
export const whichDay = ({ day, since }: { day: number; since?: StartWord }) => t(since ? `day.since.${since}` : "day.number", { day });

/** "lot 221" or nothing. */
export const lotWord = (lot: string | undefined) => (lot ? t("round.lot", { lot }).replace(" ", "\u00a0") : "");
export const joined = (...parts: (string | undefined | false)[]) => parts.filter(Boolean).join(", ");
