// The days that are to count, laid out by weeks: a row a week, Monday first; long runs of proven weeks fold. Pure.
import type { Day, Qualifying } from "../../../api";
import { addDays, daysBetween, weekdayIndex } from "../../../days";

export type DayIs = Qualifying["days"][number]["is"];
export interface Week {
  monday: Day;
  cells: (DayIs | undefined)[];   // seven; undefined: before the start or still to come
  missing: { day: Day; low?: number | undefined }[];
  unproven: Day[];
  vouched: Day[];
}
export type Row = { week: Week } | { folded: number; from: Day; to: Day };

const kKept = 3;   // rows at both ends of a fold that stay, so that the eye sees what was folded

/** Every week from the first day to the last. A day between them that the rule leaves out does not count. */
export function weeksOf(days: Qualifying["days"]): Week[] {
  const first = days[0];
  const last = days[days.length - 1];
  if (!first || !last) return [];
  const by = new Map(days.map((d) => [d.day, d]));
  const start = addDays(first.day, -weekdayIndex(first.day));
  const weeks: Week[] = [];
  for (let monday = start; monday <= last.day; monday = addDays(monday, 7)) {
    const own = Array.from({ length: 7 }, (_, i) => addDays(monday, i));
    const found = own.flatMap((day) => by.get(day) ?? []);
    weeks.push({
      monday,
      cells: own.map((day) => by.get(day)?.is ?? (day > first.day && day < last.day ? "not counting" : undefined)),
      missing: found.filter((d) => d.is === "missing").map(({ day, low }) => ({ day, low })),
      unproven: found.filter((d) => d.is === "unproven").map((d) => d.day),
      vouched: found.filter((d) => d.is === "vouched").map((d) => d.day),
    });
  }
  return weeks;
}

const plain = (week: Week) => week.cells.every((c) => c === "proven");

/** Runs of more than so many proven weeks show their first and last, and between them how many there are. */
export function folded(weeks: Week[], kept = kKept): Row[] {
  const rows: Row[] = [];
  for (let i = 0; i < weeks.length; ) {
    let end = i;
    while (end < weeks.length && plain(weeks[end]!)) end += 1;
    const run = end - i;
    if (run > 2 * kept + 1) {
      rows.push(...weeks.slice(i, i + kept).map((week) => ({ week })));
      const inside = weeks.slice(i + kept, end - kept);
      rows.push({ folded: inside.length, from: inside[0]!.monday, to: addDays(inside[inside.length - 1]!.monday, 6) });
      rows.push(...weeks.slice(end - kept, end).map((week) => ({ week })));
      i = end;
    } else {
      const stop = Math.max(end, i + 1);
      rows.push(...weeks.slice(i, stop).map((week) => ({ week })));
      i = stop;
    }
  }
  return rows;
}

/** Days one after another as spans. */
export function runsOf(days: Day[]): { from: Day; to: Day }[] {
  const runs: { from: Day; to: Day }[] = [];
  for (const day of [...days].sort()) {
    const last = runs[runs.length - 1];
    if (last && daysBetween(last.to, day) === 1) last.to = day;
    else runs.push({ from: day, to: day });
  }
  return runs;
}

/** How many days are still wanting. */
export const short = (q: Qualifying): number => Math.max(0, q.of - q.counted);
