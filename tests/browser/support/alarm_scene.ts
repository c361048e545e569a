// Alarms and limits of the invented house. The limits are the program's own rows, read from its source, so that each
// of them is seen with its words.
import { readFileSync } from "node:fs";
import type { Alarm, AlarmPage, AlarmsPage, Cave, AlarmWord, Head, JournalLine, LimitsPage, Span } from "../../../web/page/src/api.ts";
import { fileURLToPath } from "node:url";

const kHour = 3_600_000;
const source = (name: string) => readFileSync(fileURLToPath(new URL(`../../../rules/alarms/${name}`, import.meta.url)), "utf8");

/** {"too warm: watch after", &S::warm_watch_after, "min", 10, 1440, kTrade} with the value in the header. */
export function settingRows(): LimitsPage["rows"] {
  const header = source("settings.hpp");
  const rows = [...source("settings.cpp").matchAll(/\{"([^"]+)",\s*&S::(\w+),\s*"([^"]+)",\s*(-?[\d.]+),\s*(-?[\d.]+),\s*(k\w+)\}/g)];
  const sources = new Map([...source("settings.cpp").matchAll(/string_view (k\w+) =\s*"([^"]+)"/g)].map(([, name, said]) => [name, said]));
  return rows.map(([, id, field, unit, least, most, from]) => {
    const usual = Number(new RegExp(`\\b${field} = (-?[\\d.]+)`).exec(header)?.[1]);
    return { id: id!, unit: unit!, value: usual, usual, least: Number(least), most: Number(most), source: sources.get(from)! };
  });
}

export interface Typed { temperature?: Span; humidity?: Span; settings: Record<string, number>; off: AlarmWord[]; ready_cheese: boolean }

export function limitsPage(head: Head, cave: Cave, typed: Typed): LimitsPage {
  return {
    head, cave: { id: cave.id, name: cave.name, kind: cave.kind },
    band: { ...(cave.temperature.band ? { temperature: { ...cave.temperature.band, source: "the bands of the wheels there" } } : {}), ...(cave.humidity.band ? { humidity: cave.humidity.band } : {}) },
    typed: { ...(typed.temperature ? { temperature: typed.temperature } : {}), ...(typed.humidity ? { humidity: typed.humidity } : {}) },
    ready_cheese: typed.ready_cheese, out_of_service: typed.off,
    rows: settingRows().map((row) => ({ ...row, value: typed.settings[row.id] ?? row.usual })),
  };
}

const kBase = { severity: "act" as const, wheels: [], concerns: [], found_later: false, value: 0, extreme: 0, dose: 0 };

/** Many at once: the worst first. */
export function flood(now: number): Alarm[] {
  const since = now - 2 * kHour;
  const one = (id: string, kind: Alarm["kind"], cave: number, cave_name: string, more: Partial<Alarm>): Alarm => ({ ...kBase, id, kind, cave, cave_name, since, raised: since + kHour / 2, first: ["Look at it."], ...more });
  return [
    one("carbon-dioxide-5-1", "carbon dioxide", 5, "Cellar", { severity: "urgent", value: 16_200, grade: "urgent", here_by: ["TR"], warnings: ["TR said at 06:50 to be there, and not yet to be out.", "From 15000 ppm: a danger to life. Nobody in, not for a moment."], first: ["Door open, and stay out.", "Air it until it is low.", "Never go in alone."] }),
    one("unwatched-1-2", "unwatched", 1, "Fridge", { over: now - kHour, why: "warmed meanwhile", before: 12.4, value: 15.1, warmest: 14.6, found_later: true, since: now - 8 * kHour,
      concerns: [{ count: 6, family: "Bloomy, white mould", cave_name: "Box 1", state: "rind forming", grams: 250 }] }),
    one("door-open-1-3", "door open", 1, "Fridge", { severity: "watch", why: "after round", value: 15.8, since: now - kHour / 2 }),
    one("too-dry-3-4", "too dry", 3, "Box 2", { taken: now - kHour, taken_by: "TR", value: 71, extreme: 68, dose: 22, band: { low: 82, high: 92 }, what: "other" }),
    one("probe-silent-9-5", "probe silent", 5, "Cellar", { probe: "Cellar air", severity: "watch" }),
    one("too-cold-1-6", "too cold", 1, "Fridge", { over: now - 26 * kHour, since: now - 50 * kHour, value: 1.2, extreme: 0.4, dose: 41, band: { low: 11, high: 14 }, uncounted: ["2026-11-24", "2026-11-25"], taken: now - 40 * kHour }),
  ];
}

export function past(now: number): Alarm[] {
  return [
    { ...kBase, id: "too-warm-1-0", kind: "too warm", cave: 1, cave_name: "Fridge", since: now - 21 * 24 * kHour - 4 * kHour, raised: now - 21 * 24 * kHour, over: now - 21 * 24 * kHour + 3 * kHour, taken: now - 21 * 24 * kHour + kHour, what: "door",
      remark: "ice cream box in the way", value: 15, extreme: 15.9, dose: 4.5, band: { low: 11, high: 14 }, uncounted: [], first: [],
      concerns: [{ count: 6, family: "Bloomy, white mould", cave_name: "Box 1", state: "rind forming" }, { count: 4, family: "Pressed semi-hard, brine-washed", cave_name: "Box 1", state: "ripening" }, { count: 2, family: "Washed rind", cave_name: "Box 2", state: "ripening" }] },
    { ...kBase, id: "plant-weak-1-0", kind: "plant weak", severity: "watch", cave: 1, cave_name: "Fridge", since: now - 60 * 24 * kHour, raised: now - 60 * 24 * kHour, over: now - 39 * 24 * kHour, taken: now - 59 * 24 * kHour, why: "slow fall", first: [] },
    { ...kBase, id: "too-dry-1-0", kind: "too dry", severity: "watch", cave: 1, cave_name: "Fridge", since: now - 21 * 24 * kHour - 3 * kHour, raised: now - 21 * 24 * kHour, over: now - 21 * 24 * kHour + 3 * kHour,
      told_by: "too-warm-1-0", teller: { id: "too-warm-1-0", kind: "too warm", why: "band", cave_name: "Fridge" }, value: 71, extreme: 69, dose: 4, band: { low: 74, high: 84 }, first: ["Look at the rinds: do they crack?"] },
  ];
}

export function alarmPage(head: Head, alarm: Alarm | undefined, cave: Cave | undefined, journal: JournalLine[]): AlarmPage | undefined {
  return alarm && { head, alarm, ...(cave ? { cave } : {}), journal: journal.filter((l) => l.cave === alarm.cave && l.kind !== "care"), of_power: alarm.kind === "unwatched" };
}

export const alarmsPage = (head: Head, now: number): AlarmsPage => ({
  head, past: past(now),
  month: [{ cave: 1, cave_name: "Fridge", rang: 3, watch: 2, sentence: "It rang 3 times: 2 real, 1 door." }],
});

/** What rises goes on rising for a while: the span widens. */
export const ahead = (now: number, value: number) => [0, 1, 2, 3, 4, 5, 6, 7, 8].map((half) => ({ at: now + (half * kHour) / 2, low: value + half * 0.05, high: value + half * 0.35 }));
