// The days that are to count, laid out by weeks: a row a week, Monday first; long runs of weeks that are alike fold. Pure.
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
export type Row = { week: Week } | { folded: number; is: DayIs; from: Day; to: Day };

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

/** What all seven days of a week are, if they are alike. */
const alike = (week: Week): DayIs | undefined => (week.cells.every((c) => c === week.cells[0]) ? week.cells[0] : undefined);

/** Runs of more than so many weeks that are alike throughout show their first and last, and between them how many there are. */
export function folded(weeks: Week[], kept = kKept): Row[] {
  const rows: Row[] = [];
  for (let i = 0; i < weeks.length; ) {
    let end = i;
    const is = alike(weeks[i]!);
    while (end < weeks.length && is && alike(weeks[end]!) === is) end += 1;
    const run = end - i;
    if (is && run > 2 * kept + 1) {
      rows.push(...weeks.slice(i, i + kept).map((week) => ({ week })));
      const inside = weeks.slice(i + kept, end - kept);
      rows.push({ folded: inside.length, is, from: inside[0]!.monday, to: addDays(inside[inside.length - 1]!.monday, 6) });
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
