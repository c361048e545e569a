// What happened to the air around a wheel, told in as few rows as it has stories. Pure.
import type { Day, WheelPage } from "../../api";
import { dateOf, daysBetween } from "../../days";
import { daySpan } from "../../parts/names";

type Excursion = WheelPage["excursions"][number];

/** One or several of one kind that belong together. */
export interface Told {
  kind: Excursion["kind"];
  why?: Excursion["why"];  // of the first
  from: number;         // of the first
  to?: number;          // of the last; none: it lasts
  count: number;
  lasted: number;       // ms, all of them together; 0 while it lasts
  extreme: number;      // the farthest
  what?: string;
  uncounted?: Day[];    // of all of them: too cold to count
}

const kApart = 7; // days; of one cause and farther apart they are two stories

const farther = (kind: Excursion["kind"], a: number, b: number) => (kind === "too cold" || kind === "too dry" ? Math.min(a, b) : Math.max(a, b));

/** The dates on which the air was out: those of the wall, for air knows no keeper's day. */
export const datesOf = ({ from, to = from }: Pick<Told, "from" | "to">): string => daySpan(dateOf(from), dateOf(to));

// A step of a plan is no failure of the air, and what follows a round is none of the plant.
const story = ({ why }: Pick<Told, "why">): string => (why === "plan step" || why === "after round" ? why : "");

/** Of one day, or of one cause and not far apart. What still lasts stands alone. */
function belongs(told: Told, next: Excursion): boolean {
  if (told.kind !== next.kind || story(told) !== story(next) || told.to === undefined || next.to === undefined) return false;
  const apart = daysBetween(dateOf(told.to), dateOf(next.from));
  return apart === 0 || (told.what === next.what && apart <= kApart);
}

export function toldTogether(excursions: Excursion[]): Told[] {
  const told: Told[] = [];
  for (const next of [...excursions].sort((a, b) => a.from - b.from)) {
    // An alarm stands for longer than its air is out.
    const own = next.to === undefined ? 0 : next.beyond ?? next.to - next.from;
    const same = [...told].reverse().find((t) => belongs(t, next));
    if (!same) {
      told.push({ kind: next.kind, ...(next.why ? { why: next.why } : {}), from: next.from, ...(next.to === undefined ? {} : { to: next.to }), count: 1, lasted: own, extreme: next.extreme, ...(next.what ? { what: next.what } : {}), ...(next.uncounted ? { uncounted: next.uncounted } : {}) });
      continue;
    }
    same.to = Math.max(same.to!, next.to!);
    same.count += 1;
    same.lasted += own;
    same.extreme = farther(same.kind, same.extreme, next.extreme);
    if (next.uncounted) same.uncounted = [...new Set([...(same.uncounted ?? []), ...next.uncounted])].sort();
    // of several causes none is named
    if (same.what !== next.what) delete same.what;
  }
  return told;
}

