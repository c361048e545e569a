// The work of the days as the worn edge of a leaf: one body along the rule, as far into the margin as a day is long.
// Pure.
import type { AheadPage, Day } from "../../api";
import { addDays, daysBetween } from "../../days";

type Week = AheadPage["weeks"][number];

/** The longest day of all weeks shown. */
export const longest = (weeks: Week[]): number => Math.max(0, ...weeks.flatMap((w) => w.minutes));

/** px a minute: the longest day takes the room there is, and short days are not blown up. */
export const scaleFor = (most: number, room: number): number => Math.min(1.35, room / Math.max(1, most));

/** The outline of some days in a box 100 high, stretched over its row: x from the rule at `edge` to the left. */
export function outline(minutes: number[], edge: number, perMinute: number): string {
  const row = 100 / Math.max(1, minutes.length);
  const x = (m: number) => (edge - Math.max(0, m) * perMinute).toFixed(1);
  const steps = minutes.map((m, i) => `H${x(m)}V${((i + 1) * row).toFixed(2)}`);
  return `M${edge} 0${steps.join("")}H${edge}`;
}

/** The longest day of a week, if it has any work. */
export function busiestOf(minutes: number[]): { index: number; minutes: number } | undefined {
  const most = Math.max(...minutes);
  return most > 0 ? { index: minutes.indexOf(most), minutes: most } : undefined;
}

export interface Item { key: string; at: Day; kind: "ready" | "young" | "eat"; count: number; lot: string; family: string; to?: Day | undefined; wheels: number[] }

/** What a week brings, by day. */
export function itemsOf(week: Week): Item[] {
  const ready = week.ready.map((r): Item => ({ key: `ready ${r.lot} ${r.family} ${r.from} ${r.wheels[0]}`, at: r.from, kind: r.young ? "young" : "ready", count: r.wheels.length, lot: r.lot, family: r.family, to: r.to, wheels: r.wheels }));
  const eat = week.eat_by.map((e): Item => ({ key: `eat ${e.lot} ${e.family} ${e.by} ${e.wheels[0]}`, at: e.by, kind: "eat", count: e.wheels.length, lot: e.lot, family: e.family, wheels: e.wheels }));
  return [...ready, ...eat].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
}

/** How many wheels become ready after today: each once, whatever roads it may take, and none that is ready now. */
export function becoming(weeks: Week[], today: Day): number {
  const ready = weeks.flatMap((week) => week.ready);
  const now = new Set(ready.filter((r) => r.from <= today).flatMap((r) => r.wheels));
  return new Set(ready.flatMap((r) => r.wheels).filter((wheel) => !now.has(wheel))).size;
}

/** A week parted at a day: what lies before its end, and after it. */
export function partedAt(week: Week, day: Day): { days: number; before: Item[]; after: Item[] } | undefined {
  const index = daysBetween(week.monday, day);
  if (index < 0 || index > 6) return undefined;
  const items = itemsOf(week);
  return { days: index + 1, before: items.filter((i) => i.at <= day), after: items.filter((i) => i.at > day) };
}

export const mondayOf = (weeks: Week[], day: Day): Day | undefined => weeks.find((w) => day >= w.monday && day <= addDays(w.monday, 6))?.monday;
